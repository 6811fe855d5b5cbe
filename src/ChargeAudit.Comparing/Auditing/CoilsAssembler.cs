using ChargeAudit.Coils;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Puts a pad's measured efficiency beside its coils' best.</summary>
internal static class CoilsAssembler
{
    /// <summary>The comparison; null where the study says nothing about the coils.</summary>
    public static CoilsResult? Of(Method method, IReadOnlyList<RunResult> runs)
    {
        if (method.Coils?.Link is not { } link)
        {
            return null;
        }

        var counted = runs.Where(r => r.Excluded is null).ToList();
        var both = counted.Where(r => r.Points.ContainsKey(MeasuringPoint.Usb) && r.Points.ContainsKey(MeasuringPoint.Device)).ToList();
        if (both.Count == 0)
        {
            var missing = Figure.None(WhyNot(method.Name, counted));
            return new CoilsResult(link, missing, missing, missing, false);
        }

        // Each run is split by itself, so what varies from run to run and affects both points cancels before it is averaged.
        var splits = both.Select(r => CoilLimit.Split(r.Points[MeasuringPoint.Usb].Energy, r.Points[MeasuringPoint.Device].Energy, link))
            .ToList();
        Measured Mean(Func<CoilLimit, Measured> part, string name) =>
            Repeatability.Combine([.. splits.Select(part)], InfluenceSource.ScatterOf(method.Name, "coils-" + name),
                RunBlocks.Of(both)).Mean;
        var rest = Mean(s => s.Rest, "rest");
        return new CoilsResult(
            link,
            Figure.Of(Mean(s => s.MeasuredEfficiency, "efficiency")),
            Figure.Of(Mean(s => s.CoilLoss, "loss")),
            Figure.Of(rest),
            rest.Interval() is { } interval ? interval.High < 0 : rest.Value < 0);
    }

    private static string WhyNot(string method, List<RunResult> runs)
    {
        bool Has(MeasuringPoint point) => runs.Any(r => r.Points.ContainsKey(point));
        return (Has(MeasuringPoint.Usb), Has(MeasuringPoint.Device), Has(MeasuringPoint.Battery)) switch
        {
            (true, true, _) => $"no run of {method} was measured at the adapter's output and the device at once",
            (true, false, true) =>
                "a meter at the device is missing: between the adapter's output and the battery the device's own charging circuit loses "
                    + "energy too, and cannot "
                + "be told from the pad",
            (true, false, false) => "a meter at the device is missing: what comes out of the receiver was not measured",
            (false, true, _) =>
                "a meter at the adapter's output is missing: between wall and device the adapter loses energy too, and cannot be told "
                    + "from the pad",
            _ => "meters at the adapter's output and the device are missing",
        };
    }
}
