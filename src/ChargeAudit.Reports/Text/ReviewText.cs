using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Text;

/// <summary>What a reviewer of published figures would ask, and what this audit answers: a figure, or that it is not known.</summary>
public static class ReviewText
{
    /// <summary>Said where nothing answers.</summary>
    public const string NotKnown = "not known";

    /// <summary>The questions with their answers, in the order in which they would be asked.</summary>
    /// <param name="result">The audit.</param>
    public static IReadOnlyList<(string Question, string Answer)> Of(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return
        [
            ("Was it the same meter for all methods?", Each(Points(result), p => $"{Words.At(p)} {Meters(result, p)}")),
            ("When was the meter calibrated, and was its zero reading subtracted?", Each(UsedMeters(result), Calibrated)),
            ("Is the meter good at this power factor?",
                Each(UsedMeters(result).Where(m => IsOnMains(result, m)), m => PowerFactor(result, m))),
            ("What ended a charge?", EndRule(result)),
            ("From which state of charge to which?", Each(result.Methods, States)),
            ("How many runs, and on how many days?", Each(result.Methods, Days)),
            ("What if the meter were at its limits?", Each(Answer.Headlines(result), AtLimits)),
            ("What is assumed?", Assumed(result)),
            ("Can others get the same figures?", Again(result)),
        ];
    }

    private static string Each<T>(IEnumerable<T> items, Func<T, string> answer) =>
        items.Select(answer).ToList() is { Count: > 0 } answers ? string.Join("; ", answers) : NotKnown;

    private static IEnumerable<MeasuringPoint> Points(AuditResult result) =>
        Enum.GetValues<MeasuringPoint>().Where(p => Counted(result).Any(r => r.Points.ContainsKey(p)));

    private static IEnumerable<RunResult> Counted(AuditResult result) =>
        result.Methods.SelectMany(m => m.Runs).Where(r => r.Excluded is null);

    private static string Meters(AuditResult result, MeasuringPoint point)
    {
        var named = Counted(result).Where(r => r.Points.ContainsKey(point)).Select(r => r.Points[point].Meter).Distinct().ToList();
        return named.Contains(null) ? $"{NotKnown} (no meter is named for some runs)"
            : named.Count == 1 ? $"yes, {named[0]}"
            : $"no: {string.Join(" and ", named)}";
    }

    private static IEnumerable<Meter> UsedMeters(AuditResult result)
    {
        var used = result.Logs.Select(l => l.Meter).OfType<string>().ToHashSet(StringComparer.Ordinal);
        return result.Study.Meters.Values.Where(m => used.Contains(m.Name));
    }

    private static string Calibrated(Meter meter)
    {
        if (meter.Calibrations.Count == 0)
        {
            return $"{meter.Name} {NotKnown} (no calibration and no zero reading is stated)";
        }

        var days = meter.Calibrations.Select(c => c.Date).Distinct().ToList();
        string when = days.Contains(null) ? "day not stated" : string.Join(" and ", days.Select(d => Prose.Of($"{d:yyyy-MM-dd}")));
        bool zero = meter.Calibrations.Any(c => c.ZeroFiles.Count > 0 || c.Points.Any(p => p.Reference == 0));
        string drift = meter.Calibrations.All(c => c.DriftPerYear is not null) ? "drift since in the interval" : "drift since not stated";
        return $"{meter.Name} {when}, {(zero ? "zero reading subtracted" : "zero not stated")}, {drift}";
    }

    private static bool IsOnMains(AuditResult result, Meter meter) =>
        result.Logs.Any(l => l.Meter == meter.Name && l.Point == MeasuringPoint.Wall);

    private static string PowerFactor(AuditResult result, Meter meter)
    {
        var waiting = result.Logs.Where(l => l.Meter == meter.Name).SelectMany(l => l.Modes)
            .Where(m => m.Span.Mode is Mode.NoLoad or Mode.Maintenance).Select(m => m.PowerFactor).OfType<double>().ToList();
        string found = waiting.Count > 0
            ? Prose.Of($"waiting at {waiting.Min():F2}") + (waiting.Max() - waiting.Min() >= 0.005
                ? Prose.Of($" to {waiting.Max():F2}")
                : "")
            : meter.PowerFactor is { } stated ? Prose.Of($"stated as {stated:G2}") : $"power factor {NotKnown}";
        string good = meter.Phase.Count > 0 ? $"phase stated as {string.Join(", ", meter.Phase.Select(p => p.Text))}, in the interval"
            : meter.Limits.LeastPowerFactor is { } least ? Prose.Of($"accuracy stated down to {least:G2}")
            : $"phase error {NotKnown}";
        return $"{meter.Name}: {found}, {good}";
    }

    private static string EndRule(AuditResult result)
    {
        bool stated = result.Study.Runs.Any(r => r.FullAt is not null);
        string rule = stated
            ? "the device's own sign that it was full, where it was noted; else where power settles"
            : "where power settles after its fall";
        var spreads = Answer.Headlines(result)
            .Select(c => (c.Method, Ratios: c.EndRules.Where(e =>
                e.Rule != ChargeAudit.Measuring.Segmentation.EndRule.PlainShare).Select(e => e.Ratio).OfType<double>().ToList()))
            .Where(c => c.Ratios.Count > 1).ToList();
        return rule + (spreads.Count == 0 ? "" : "; by other rules " + string.Join(", ", spreads.Select(s =>
            $"{s.Method} {FigureText.Plain(s.Ratios.Min(), "")} to {FigureText.Plain(s.Ratios.Max(), "")} times")));
    }

    private static string States(MethodResult method)
    {
        var runs = method.Runs.Where(r => r.Excluded is null).ToList();
        return $"{method.Name} {Range([.. runs.Select(r => r.StartChargePercent)])} to {Range([.. runs.Select(r => r.EndChargePercent)])}";
    }

    private static string Range(List<double?> percents) => percents.Count == 0 || percents.Contains(null) ? NotKnown
        : percents.Min() == percents.Max() ? Prose.Of($"{percents.Min():0.##} %")
        : Prose.Of($"{percents.Min():0.##} to {percents.Max():0.##} %");

    private static string Days(MethodResult method)
    {
        var runs = method.Runs.Where(r => r.Excluded is null).ToList();
        string days = runs.Count > 0 && runs.TrueForAll(r => r.Block is not null)
            ? Number(runs.Select(r => r.Block).Distinct(StringComparer.Ordinal).Count(), "block")
            : runs.Count > 0 && runs.TrueForAll(r => r.Start is not null)
                ? Number(runs.Select(r => r.Start!.Value.Date).Distinct().Count(), "day")
                    + " by the logs, which the interval does not include"
            : $"days {NotKnown}";
        return $"{method.Name} {Number(runs.Count, "run")} in {days}";
    }

    private static string Number(int count, string what) => InvariantText.Of($"{count} {what}{(count == 1 ? "" : "s")}");

    // All errors of the meters at once at their limits, in the worst direction; a normally distributed error has no limits, and counts with
    // two standard uncertainties.
    private static string AtLimits(ComparisonResult c)
    {
        if (c.OverheadRatio.Value is not { } ratio)
        {
            return $"{c.Method} {NotKnown} ({c.OverheadRatio.WhyNot})";
        }

        if (ratio.UnknownBecause is { } because)
        {
            return $"{c.Method} {NotKnown} ({because})";
        }

        double most = ratio.Components.Where(k => k.Source.Owner == SourceOwner.Meter)
            .Sum(k => Math.Abs(k.SignedStandardUncertainty) * Limit(k.Source.Shape));
        return $"{c.Method} {Words.At(c.Point)} {FigureText.Plain(ratio.Value - most, "", 4)} to "
            + $"{FigureText.Plain(ratio.Value + most, "", 4)} "
            + $"times, by the meters alone (found {FigureText.Plain(ratio.Value, "", 4)})";
    }

    private static double Limit(ErrorShape shape) => shape switch
    {
        ErrorShape.Rectangular => Math.Sqrt(3),
        ErrorShape.Triangular => Math.Sqrt(6),
        ErrorShape.Arcsine => Math.Sqrt(2),
        _ => 2,
    };

    private static string Assumed(AuditResult result)
    {
        var assumed = result.Assumptions
            .Concat(result.Methods.SelectMany(m => m.Points.OrderBy(p => p.Key), (m, p) =>
                (m.Name, Where: Words.At(p.Key), Figure: p.Value.EnergyPerCharge))
                .Where(f => f.Figure.Assumed is not null).Select(f => $"energy of {f.Name} {f.Where}: {f.Figure.Assumed}"))
            .Select(a => a.TrimEnd('.')).Distinct().ToList();
        return assumed.Count > 0 ? string.Join("; ", assumed) : "nothing beyond what the study states";
    }

    private static string Again(AuditResult result) => result.Provenance.BundleSha256 is { } bundle
        ? $"from the bundle of this report, whose list of files has the SHA-256 {bundle}"
        : InvariantText.Of($"from {result.Logs.Sum(l => l.Files.Count)} logs whose hashes stand in the report and in results.json");
}
