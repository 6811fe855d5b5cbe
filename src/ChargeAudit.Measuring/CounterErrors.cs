using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// What the step of an energy counter brings to an energy that is obtained from it alone. At each end of a stretch the energy is known to
/// half a step either way: one signed source, which moves the stretch before and the one after in opposite directions. Two independent ends
/// make a triangular error of standard uncertainty step/√6. <i>Source:</i> JCGM 100:2008, 4.3.7 and 4.3.9.
/// </summary>
internal static class CounterErrors
{
    /// <summary>Share of a rectangular distribution's half-width within which 95 % of it lies. [1]</summary>
    private const double Filled = 0.95;

    /// <summary>Components of an energy between two times. [J]</summary>
    /// <param name="summary">The finished summary of a log whose power comes from its counter.</param>
    /// <param name="logId">Name of the log.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public static IEnumerable<UncertaintyComponent> Of(LogSummary summary, string logId, double fromS, double toS)
    {
        double stepJ = summary.CounterStepJ;
        if (!(stepJ > 0))
        {
            yield break;
        }

        if (summary.CounterEnergyJ == 0)
        {
            // Anything up to a step: the interval reaches from nothing to that.
            yield return new(InfluenceSource.OfLog(logId, SourceKind.CounterReading, "counter-unmoved", ErrorShape.Rectangular), 0.5 * stepJ
                / (Filled * Math.Sqrt(3)));
            yield break;
        }

        bool fromStart = fromS <= summary.StartS;
        if (fromStart && summary.CounterStartsAtZero)
        {
            // A counter that is cut down has a whole step before it, one that is rounded half a step; which of the two holds was not
            // stated. The value lies in the middle.
            yield return new(InfluenceSource.OfLog(logId, SourceKind.CounterReading, "counter-zero", ErrorShape.Arcsine), -stepJ / 3
                / Math.Sqrt(2));
            yield return AtEnds(summary, logId, fromS, toS)[1];
            yield break;
        }

        foreach (var end in AtEnds(summary, logId, fromS, toS))
        {
            yield return end;
        }
    }

    /// <summary>Half a step either way at both ends of a stretch. [J]</summary>
    public static UncertaintyComponent[] AtEnds(LogSummary summary, string logId, double fromS, double toS)
    {
        double half = 0.5 * summary.CounterStepJ / Math.Sqrt(3);
        UncertaintyComponent[] ends =
        [
            new(At(logId, Math.Max(fromS, summary.StartS)), -half),
            new(At(logId, Math.Min(toS, summary.EndS)), half),
        ];

        // Finer readings before were set to lie between what a counter that is cut down shows and one that is rounded.
        return fromS < summary.CounterCoarsensAtS && toS >= summary.CounterCoarsensAtS
            ? [.. ends, new(InfluenceSource.OfLog(logId, SourceKind.CounterReading, "counter-digits", ErrorShape.Arcsine),
                0.25 * summary.CounterStepJ / Math.Sqrt(2))]
            : ends;
    }

    /// <summary>What is added to the energy of a stretch in which the counter did not move at all: half of what it may hide. [J]</summary>
    public static double UnmovedJ(LogSummary summary) =>
        summary is { Rules.Source: PowerSource.EnergyCounter, CounterEnergyJ: 0, CounterStepJ: > 0 and var step } ? 0.5 * step : 0;

    private static InfluenceSource At(string logId, double timeS) =>
        InfluenceSource.OfLog(logId, SourceKind.CounterReading, InvariantText.Of($"counter-at-{timeS:F3}-s"), ErrorShape.Rectangular);
}
