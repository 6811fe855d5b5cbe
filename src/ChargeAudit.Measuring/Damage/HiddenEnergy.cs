using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring.Damage;

/// <summary>What damaged readings may hide of a stretch's energy.</summary>
internal static class HiddenEnergy
{
    /// <summary>Components for readings that were left out singly, and for hours that may not have passed. [J]</summary>
    public static IEnumerable<UncertaintyComponent> Components(LogSummary summary, string logId, double fromS, double toS)
    {
        double hiddenJ = summary.Rules.Marked.Where(m => m.ToS >= fromS && m.FromS <= toS).Sum(m => m.HiddenJ);
        if (hiddenJ > 0)
        {
            yield return new(InfluenceSource.OfLog(logId, SourceKind.Gap, "left-out-readings", ErrorShape.Rectangular), hiddenJ
                / Math.Sqrt(3));
        }

        if (summary.Rules.Source == PowerSource.EnergyCounter)
        {
            double unseenJ = summary.HiddenAtFalls.Where(f => f.ToS > fromS && f.FromS < toS).Sum(f => f.HiddenJ)
                + BeyondCounterJ(summary, fromS, toS);
            if (unseenJ > 0)
            {
                yield return new(InfluenceSource.OfLog(logId, SourceKind.CounterReading, "counter-fell", ErrorShape.Rectangular), unseenJ
                    / Math.Sqrt(3));
            }
        }

        double beyondJ = AcrossBordersJ(summary, fromS, toS);
        if (beyondJ > 0)
        {
            yield return new(InfluenceSource.OfLog(logId, SourceKind.Gap, "left-out-at-border", ErrorShape.Rectangular), beyondJ
                / Math.Sqrt(3));
        }

        // The interval of the bridge's own uncertainty ends a twentieth short of no energy at all; where the clock may have been put
        // forward, it has to reach that.
        var hours = ClockAhead.Find(summary).ToList();
        foreach (var gap in ClockAhead.Any(summary).Where(g => g.ToS > fromS && g.FromS < toS))
        {
            yield return new(InfluenceSource.OfLog(logId, SourceKind.Gap, $"clock-at-line-{gap.Line}", ErrorShape.Rectangular),
                (hours.Contains(gap) ? 0.5 : 0.32) * gap.EnergyJ);
        }
    }

    /// <summary>Within this a border is not told from its neighbours. [s]</summary>
    public static double NearS(SummaryRules rules, PowerEnvelope envelope) => 3 * Math.Max(rules.MedianIntervalS, envelope.BucketWidthS);

    // Where rows that were left out as in a gap reach over an end of the stretch, that end may lie anywhere in them.
    private static double AcrossBordersJ(LogSummary summary, double fromS, double toS)
    {
        double near = NearS(summary.Rules, summary.Envelope);
        double sumJ = 0;
        foreach (var left in summary.Rules.Marked.Where(m => m.Kind is FaultKind.Stuck or FaultKind.ZeroReadings && m.ToS - m.FromS > near))
        {
            double levelW = Math.Max(0, summary.Envelope.EnergyBetweenJ(left.FromS - near, left.FromS)
                / Math.Max(1e-9, summary.Envelope.CoveredBetweenS(left.FromS - near, left.FromS)));
            sumJ += toS > left.FromS - near && toS < left.ToS - near ? levelW * (left.ToS - toS) : 0;
            sumJ += fromS > left.FromS + near && fromS < left.ToS + near ? levelW * (fromS - left.FromS) : 0;
        }

        return 1.1 * sumJ;
    }

    // Bad readings at an end of the log leave time that the counter does not show: as much may have flowed as beside it.
    private static double BeyondCounterJ(LogSummary summary, double fromS, double toS)
    {
        const int Beside = 8;
        var counted = summary.Counted;
        if (summary.BadCounterReadings.Count == 0 || counted.Count < 2)
        {
            return 0;
        }

        double Over(double lengthS, (double TimeS, double EnergyJ) from, (double TimeS, double EnergyJ) to) =>
            lengthS > 0 && to.TimeS > from.TimeS ? (1.5 * lengthS * (to.EnergyJ - from.EnergyJ) / (to.TimeS - from.TimeS))
                + (summary.CounterStepJ > 0 ? summary.CounterStepJ : 0) : 0;
        double head = fromS <= summary.StartS
            ? Over(counted[0].TimeS - summary.StartS, counted[0], counted[Math.Min(Beside, counted.Count - 1)])
            : 0;
        return head
            + (toS >= summary.EndS
            ? Over(summary.EndS - counted[^1].TimeS, counted[Math.Max(0, counted.Count - 1 - Beside)], counted[^1])
            : 0);
    }

    /// <summary>Why a stretch's uncertainty cannot be told, as a clause; null where it can.</summary>
    public static string? UnknownBecause(LogSummary summary, double fromS, double toS) =>
        summary.Rules.Marked.FirstOrDefault(m => m.Kind == FaultKind.Clipped && m.ToS >= fromS && m.FromS <= toS) is { } clipped
            ? Prose.Of(
                $"the meter's range was exceeded from {clipped.FromS:F0} to {clipped.ToS:F0} s, and what flowed above it is not known")
            : null;
}
