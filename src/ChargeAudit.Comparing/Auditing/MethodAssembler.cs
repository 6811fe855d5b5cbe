using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Puts together what all runs and stand-by logs of one method say.</summary>
internal static class MethodAssembler
{
    /// <summary>Waiting shorter than this says little about a waiting pad's pulses. [s]</summary>
    private const double LeastWaitingS = 120;

    public static MethodResult Of(
        Study study, Method method, IReadOnlyList<RunResult> runs, StudyLogs logs, StudyYear year, Adapter? fitted,
            CancellationToken cancellation)
    {
        var points = new Dictionary<MeasuringPoint, PointResult>();
        var standby = study.Standby.Where(s => s.Method == method.Name).ToList();
        foreach (var point in Enum.GetValues<MeasuringPoint>())
        {
            var counted = runs.Where(r => r.Excluded is null && r.Points.ContainsKey(point)).ToList();
            var waiting = standby.Where(s => s.Logs.ContainsKey(point)).ToList();
            if (counted.Count > 0 || waiting.Count > 0)
            {
                points.Add(point, PointOf(method, point, counted, waiting, logs, cancellation));
            }
        }

        // Where the wall was not measured and an adapter was named, its figures are derived, and each says so.
        if (year.WallOf(method, points, fitted) is { } wall)
        {
            points[MeasuringPoint.Wall] = wall;
        }

        return new MethodResult
        {
            Name = method.Name,
            Kind = method.Kind,
            Runs = runs,
            Points = points,
            Yearly = year.YearOf(method, points, fitted),
            Coils = CoilsAssembler.Of(method, runs),
        };
    }

    private static PointResult PointOf(
        Method method, MeasuringPoint point, List<RunResult> runs, List<StandbyLog> waiting, StudyLogs logs, CancellationToken cancellation)
    {
        var energies = runs.Select(r => r.Points[point].Energy).ToList();
        string where = StudyWords.Of(point);
        var maintenance = runs.Select(r => r.Points[point].Maintenance).ToList();
        var (full, known) = FullOrWaiting.Shown(runs, point);
        var energy = energies.Count > 0
            ? Repeatability.Combine(energies, InfluenceSource.ScatterOf(method.Name, where), RunBlocks.Of(runs))
            : null;
        string none = $"no run of {method.Name} was measured {PlainWords.At(point)}";
        var own = waiting.Select(s => StandbyAssembler.Of(logs.OfStandby(s, point, cancellation), logs.CounterOf(s, point, cancellation)))
            .ToList();
        return new PointResult(
            energy is not null ? Figure.Of(energy.Mean) : Figure.None(none),
            [.. energies.Select(e => e.Value)],
            runs.Count > 0 ? runs.Average(r => r.Points[point].Charge.DurationS) : 0,
            known.Count > 0
                ? Figure.Of(
                    ZeroCut.At(point, Repeatability.Combine(
                        known, InfluenceSource.ScatterOf(method.Name, where + "-maintenance"), RunBlocks.Of(full)).Mean))
                : maintenance.FirstOrDefault() ?? Figure.None(none),
            NoLoadOf(method, point, runs, [.. own.Select(o => o.Power)]))
        {
            Blocks = energy?.Blocks ?? (RunBlocks.Of(runs) is { } blocks && energies.Count > 0
                ? BlockScatter.Of([.. energies.Select(e => e.Value)], blocks)
                : null),
            NoLoadCorrectionW = CorrectionsAssembler.Mean(waiting.Count > 0
                ? waiting.Select(s =>
                    logs.OfStandby(s, point, cancellation).Energies.CorrectionW(double.NegativeInfinity, double.PositiveInfinity))
                : runs.SelectMany(r => r.Points[point].Modes).Where(m => m.Span.Mode == Mode.NoLoad && m.MeanPower.Value is not null)
                    .Select(m => m.CorrectionWh * 3600 / m.Span.DurationS)),
            StandbyNotes = [.. own.SelectMany(o => o.Notes), .. runs.SelectMany(r => r.Points[point].MaintenanceNotes)],
        };
    }

    // A log made for the purpose takes precedence; without one, the waiting before and after a charge stands in for it.
    private static Figure NoLoadOf(Method method, MeasuringPoint point, List<RunResult> runs, List<Measured> own)
    {
        string where = StudyWords.Of(point);
        if (own.Count > 0)
        {
            return Figure.Of(
                ZeroCut.At(point, Repeatability.Combine(own, InfluenceSource.ScatterOf(method.Name, where + "-no-load")).Mean));
        }

        var seen = runs.SelectMany(r => r.Points[point].Modes).Where(m => m.Span.Mode == Mode.NoLoad).ToList();
        var known = seen.Where(m => m.Span.DurationS >= LeastWaitingS).Select(m => m.MeanPower.Value).OfType<Measured>().ToList();
        return known.Count > 0
            ? new Figure(
                ZeroCut.At(point, Repeatability.Combine(known, InfluenceSource.ScatterOf(method.Name, where + "-no-load")).Mean),
                null,
                "the short waiting before or after the charges, as there is no log of the waiting charger")
            : Figure.None(seen.Count == 0
                ? $"{method.Name} has no log of the waiting charger {PlainWords.At(point)}, and its runs show no waiting"
                : $"{method.Name} has no log of the waiting charger {PlainWords.At(point)}, and the waiting in its runs is "
                    + "too short: "
                    + $"{seen.Select(m => m.MeanPower.WhyNot).OfType<string>().FirstOrDefault() ?? "each stretch lasts less than 2 min"}");
    }
}
