using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using CsCheck;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>Series of samples for tests, and the summaries of them.</summary>
internal static class SampleSeries
{
    public static SummaryRules Rules(SampleKind kind = SampleKind.Instantaneous, double medianIntervalS = 1) => new()
    {
        Source = PowerSource.PowerColumn,
        Samples = kind,
        MedianIntervalS = medianIntervalS,
        GapThresholdS = Math.Max(5 * medianIntervalS, 2),
    };

    public static Sample At(double timeS, double powerW, long line = 1) => Sample.Empty(timeS, line) with { PowerW = powerW };

    public static LogSummary Summarise(IEnumerable<Sample> samples, SummaryRules? rules = null) => Build(samples, rules).Finish();

    /// <summary>A piece of a log that is not finished yet.</summary>
    public static LogSummary.Builder Build(IEnumerable<Sample> samples, SummaryRules? rules = null)
    {
        var summary = new LogSummary.Builder(rules ?? Rules());
        foreach (var sample in samples)
        {
            summary.Add(sample);
        }

        return summary;
    }

    /// <summary>Irregular times with some gaps, powers with some negative ones, a counter with some resets.</summary>
    public static Gen<Sample[]> Irregular { get; } =
        Gen.Select(
            Gen.OneOf(Gen.Double[0.1, 3.0], Gen.Double[0.1, 3.0], Gen.Double[0.1, 3.0], Gen.Double[3, 60]),
            Gen.OneOf(Gen.Double[0, 30], Gen.Double[0, 30], Gen.Double[-1, 0]),
            Gen.Double[3, 20],
            Gen.Double[0, 50])
        .Array[2, 60].Select(steps =>
        {
            double time = 0;
            return steps.Select((s, i) =>
            {
                // Whole parts of 1024 of a second stay exact under a shift, so no rounding decides on which side of the gap rule an
                // interval lies.
                time += i == 0 ? 0 : Math.Max(1, Math.Round(s.Item1 * 1024)) / 1024;
                return At(time, s.Item2, i + 1) with { VoltageV = s.Item3, CurrentA = s.Item2 / s.Item3, EnergyCounterJ = s.Item4 };
            }).ToArray();
        });
}
