using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using MathNet.Numerics.Statistics;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Auditing.Doubts;

/// <summary>
/// Logs of one run that plainly belong to different charges: their clocks lie apart as no two zones do, or the charges last differently, or
/// what comes through from one point to the next is out of line with the method's other runs. One doubt for each run.
/// </summary>
internal static class DifferentCharges
{
    // No two zones lie further apart, and zones differ by whole quarters of an hour; clocks of one zone by some minutes.
    private const double FurthestZonesS = 26 * 3600;
    private const double QuarterS = 900;
    private const double ClockErrorS = 120;

    // Two meters see the ends of one charge differently by the tail that only one of them resolves.
    private const double LengthShare = 0.25;
    private const double LeastLengthDifferenceS = 600;

    // What comes through a charger changes from charge to charge by a few hundredths.
    private const double EfficiencyShare = 0.1;
    private const double ScattersAllowed = 6;

    public static IEnumerable<string> Of(IReadOnlyList<MethodResult> methods)
    {
        foreach (var method in methods)
        {
            var runs = method.Runs.Where(r => r.Excluded is null).ToList();
            foreach (var run in runs)
            {
                var points = run.Points.Keys.Order().ToList();
                var found = points.Zip(points.Skip(1), (a, b) => Apart(run, a, b) ?? OtherLength(run, a, b) ?? OutOfLine(runs, run, a, b))
                    .FirstOrDefault(t => t is not null);
                if (found is not null)
                {
                    yield return found;
                }
            }
        }
    }

    private static string? Apart(RunResult run, MeasuringPoint up, MeasuringPoint down)
    {
        var (a, b) = (run.Points[up], run.Points[down]);
        if (a.Log.Layout.Start is not { } startA || b.Log.Layout.Start is not { } startB)
        {
            return null;
        }

        double apartS = Math.Abs((startA - startB).TotalSeconds + a.Charge.StartS - b.Charge.StartS);
        bool overlap = apartS < Math.Min(a.Charge.DurationS, b.Charge.DurationS);
        double fromQuarterS = Math.Abs(apartS - (QuarterS * Math.Round(apartS / QuarterS)));
        bool zones = apartS <= FurthestZonesS && (fromQuarterS <= ClockErrorS || Aligned(run, up, down));
        return overlap || zones
            ? null
            : Prose.Of(
                $"The logs of {run.Id} {At(up)} and {At(down)} lie {apartS / 3600:F1} h apart, as no two time zones do: they belong to "
                + $"different charges, or a clock was never set.");
    }

    private static string? OtherLength(RunResult run, MeasuringPoint up, MeasuringPoint down)
    {
        double a = run.Points[up].Charge.DurationS;
        double b = run.Points[down].Charge.DurationS;
        double difference = Math.Abs(a - b);
        return !Aligned(run, up, down) && difference > Math.Max(LeastLengthDifferenceS, LengthShare * Math.Max(a, b))
            ? Prose.Of(
                $"The charge of {run.Id} lasts {a / 60:F0} min {At(up)} and {b / 60:F0} min {At(down)}: the two logs belong to "
                + $"different charges, or one of them holds only a part.")
            : null;
    }

    private static string? OutOfLine(List<RunResult> runs, RunResult run, MeasuringPoint up, MeasuringPoint down)
    {
        var others = runs.Where(r => r != run && r.Points.ContainsKey(up) && r.Points.ContainsKey(down)).Select(r => Through(r, up, down))
            .ToList();
        if (others.Count < 2)
        {
            return null;
        }

        double median = others.Median();
        double scatter = others.Select(o => Math.Abs(o - median)).Median();
        double own = Through(run, up, down);
        return Math.Abs(own - median) > Math.Max(EfficiencyShare * median, ScattersAllowed * scatter)
            ? Prose.Of(
                $"Of the energy {At(up)} {100 * own:F0} % comes through {At(down)} in {run.Id}, and {100 * median:F0} % in the other "
                + $"runs of its method: its two logs may belong to different charges.")
            : null;
    }

    private static bool Aligned(RunResult run, MeasuringPoint up, MeasuringPoint down) =>
        new[] { up, down }.All(p => p == run.Points.Keys.Max() || run.Clocks.Any(c => c.Point == p && c.Applied));

    private static double Through(RunResult run, MeasuringPoint up, MeasuringPoint down) =>
        run.Points[down].Energy.Value / run.Points[up].Energy.Value;
}
