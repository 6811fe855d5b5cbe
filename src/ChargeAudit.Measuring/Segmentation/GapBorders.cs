using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Charges that start or end in a gap of the log. Nothing tells where in the gap, so it is open to which of the two modes it belongs: it is
/// counted with the charge where it is shorter than half of that, as the straight line over it holds what would flow in the mean, and the
/// energies of both modes hold the other reading as well. Pure.
/// </summary>
internal static class GapBorders
{
    /// <summary>A gap longer than this share of the charge is not counted with it. [1]</summary>
    private const double MostShare = 0.5;

    /// <summary>A border lies at a gap if it is no more than this many cells or rows away. [1]</summary>
    private const double AtGap = 2;

    /// <summary>The modes with such borders moved to an end of the gap, and what to say of it.</summary>
    /// <param name="finding">The modes.</param>
    /// <param name="summary">The finished summary.</param>
    public static ModeFinding Of(ModeFinding finding, LogSummary summary)
    {
        // A counter goes on over a gap, and what was held is no gap.
        if (summary.Rules.Source == PowerSource.EnergyCounter || summary.Envelope.HoldsValues || !(summary.Gaps.TotalS > 0))
        {
            return finding;
        }

        var modes = finding.Modes.ToArray();
        var doubts = finding.Doubts.ToList();
        for (int i = 0; i + 1 < modes.Length; i++)
        {
            bool starts = modes[i + 1].Mode == Mode.Charge, ends = modes[i].Mode == Mode.Charge;
            if (starts == ends || GapAt(summary, modes[i].EndS) is not { } gap || gap.FromS <= modes[i].StartS
                || gap.ToS >= modes[i + 1].EndS)
            {
                continue;
            }

            var charge = starts ? modes[i + 1] : modes[i];
            bool counted = gap.ToS - gap.FromS <= MostShare * charge.DurationS;
            double borderS = starts == counted ? gap.FromS : gap.ToS;
            modes[i] = modes[i] with { EndS = borderS, OpenAtEnd = gap };
            modes[i + 1] = modes[i + 1] with { StartS = borderS, OpenAtStart = gap };
            doubts.Add(new Doubt(Gravity.Wide, Prose.Of(
                $"The charge {(starts ? "starts" : "ends")} in the gap from {gap.FromS:F0} to {gap.ToS:F0} s: how much of it belongs to the "
                + $"charge is not known, and its interval allows for all and for nothing.")));
        }

        return finding with { Modes = modes, Doubts = doubts };
    }

    private static OpenStretch? GapAt(LogSummary summary, double borderS)
    {
        var envelope = summary.Envelope;
        double reachS = AtGap * Math.Max(envelope.BucketWidthS, summary.Rules.MedianIntervalS);
        int at = Math.Max(0, envelope.IndexAt(borderS - reachS)), last = Math.Min(envelope.Count - 1, envelope.IndexAt(borderS + reachS));
        while (at <= last && !(envelope[at].BridgedS.Value > 0))
        {
            at++;
        }

        if (at > last)
        {
            return null;
        }

        int from = at, to = at;
        while (from > 0 && envelope[from - 1].BridgedS.Value > 0)
        {
            from--;
        }

        while (to + 1 < envelope.Count && envelope[to + 1].BridgedS.Value > 0)
        {
            to++;
        }

        return new OpenStretch(envelope.StartS(from), envelope.StartS(to) + envelope.BucketWidthS);
    }
}
