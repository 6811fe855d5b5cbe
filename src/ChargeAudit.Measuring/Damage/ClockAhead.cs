using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Gaps of an hour, to within a row, with the same power at both ends: the clock was put forward, as for summer time, and nothing is
/// missing. Or an hour of readings really is missing: so the bridge stays, and the interval reaches down to none of its energy.
/// </summary>
internal static class ClockAhead
{
    private const double HourS = 3600;
    private const double SameLevel = 0.1;

    /// <summary>The gaps.</summary>
    public static IEnumerable<GapRecord> Find(LogSummary summary)
    {
        double median = summary.Rules.MedianIntervalS;
        return median > HourS ? [] : Any(summary).Where(g => Math.Abs(g.LengthS - HourS - median) <= Math.Max(0.6, 0.6 * median));
    }

    /// <summary>Gaps of any length with the same power at both ends: nothing shows whether rows are missing there, or the clock skipped
    /// that time.</summary>
    public static IEnumerable<GapRecord> Any(LogSummary summary)
    {
        double median = summary.Rules.MedianIntervalS;
        var envelope = summary.Envelope;
        return summary.Gaps.Longest.Where(g => !g.FromCounter && GoesOn(g));

        bool GoesOn(GapRecord gap)
        {
            double reach = Math.Max(3 * median, 3 * envelope.BucketWidthS);
            double before = envelope.EnergyBetweenJ(gap.FromS - reach, gap.FromS) / envelope.CoveredBetweenS(gap.FromS - reach, gap.FromS);
            double after = envelope.EnergyBetweenJ(gap.ToS, gap.ToS + reach) / envelope.CoveredBetweenS(gap.ToS, gap.ToS + reach);
            return before > 0 && Math.Abs(before - after) < SameLevel * before;
        }
    }
}
