using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Charges that start or end where rows are missing. Nothing tells where among them, so what flowed there is open to which of the two modes
/// it belongs. It is counted with the charge, as the straight line over it holds what would flow in the mean, and the energies of both modes
/// hold the other reading as well. Pure.
/// </summary>
internal static class GapBorders
{
    /// <summary>Cells without a reading over so many intervals: rows are missing there. Two rows that are leave at least as many. [1]</summary>
    private const double Missing = 1.25;

    /// <summary>A border lies at a gap if it is no more than this many cells or rows away. [1]</summary>
    private const double AtGap = 2;

    /// <summary>The modes with such borders moved to an end of the gap, and what to say of it.</summary>
    /// <param name="finding">The modes.</param>
    /// <param name="summary">The finished summary.</param>
    public static ModeFinding Of(ModeFinding finding, LogSummary summary)
    {
        // A counter goes on over a gap, and what was held is no gap.
        if (summary.Rules.Source == PowerSource.EnergyCounter || summary.Envelope.HoldsValues)
        {
            return finding;
        }

        var modes = WithoutUnseen(finding.Modes, summary);
        var doubts = finding.Doubts.ToList();
        for (int i = 0; i + 1 < modes.Count; i++)
        {
            bool starts = modes[i + 1].Mode == Mode.Charge, ends = modes[i].Mode == Mode.Charge;
            if (starts == ends || GapAt(summary, modes[i].EndS) is not { } gap || gap.FromS <= modes[i].StartS
                || gap.ToS >= modes[i + 1].EndS)
            {
                continue;
            }

            double borderS = starts ? gap.FromS : gap.ToS;
            modes[i] = modes[i] with { EndS = borderS, OpenAtEnd = gap };
            modes[i + 1] = modes[i + 1] with { StartS = borderS, OpenAtStart = gap };
            if (gap.ToS - gap.FromS > summary.Rules.GapThresholdS)
            {
                doubts.Add(new Doubt(Gravity.Wide, Prose.Of(
                    $"The charge {(starts ? "starts" : "ends")} in the gap from {gap.FromS:F0} to {gap.ToS:F0} s: how much of it belongs to "
                    + $"the charge is not known, and its interval allows for all and for nothing.")));
            }
        }

        return finding with { Modes = modes, Doubts = doubts };
    }

    // A mode of which no row is seen is none, such as one in which a coarse counter made no step: it may be either neighbour's.
    private static List<ModeSpan> WithoutUnseen(IReadOnlyList<ModeSpan> modes, LogSummary summary)
    {
        var seen = new List<ModeSpan>(modes);
        for (int i = seen.Count - 2; i > 0; i--)
        {
            if (i + 1 == seen.Count)
            {
                // Its neighbour has just become one with the mode behind, and is the last.
                continue;
            }

            var (before, unseen, after) = (seen[i - 1], seen[i], seen[i + 1]);
            double middleS = 0.5 * (unseen.StartS + unseen.EndS), slackS = AtGap * summary.Rules.MedianIntervalS;
            if (unseen.Mode == Mode.Charge || GapAt(summary, middleS) is not { } gap || gap.FromS > unseen.StartS + slackS
                || gap.ToS < unseen.EndS - slackS)
            {
                continue;
            }

            seen.RemoveAt(i);
            if (before.Mode == after.Mode && before.Mode != Mode.Charge)
            {
                seen.RemoveAt(i);
                seen[i - 1] = before with { EndS = after.EndS, EndUncertaintyS = after.EndUncertaintyS, OpenAtEnd = after.OpenAtEnd };
                continue;
            }

            seen[i - 1] = before with { EndS = unseen.EndS, EndUncertaintyS = unseen.EndUncertaintyS, OpenAtEnd = gap };
            seen[i] = after with { OpenAtStart = gap };
        }

        return seen;
    }

    // The longest stretch without a reading near the border: between slow rows there are short ones.
    private static OpenStretch? GapAt(LogSummary summary, double borderS)
    {
        var envelope = summary.Envelope;
        double reachS = AtGap * Math.Max(envelope.BucketWidthS, summary.Rules.MedianIntervalS);
        int last = Math.Min(envelope.Count - 1, envelope.IndexAt(borderS + reachS));
        var (from, to) = (0, -1);
        for (int at = Math.Max(0, envelope.IndexAt(borderS - reachS)); at <= last; at++)
        {
            if (IsEmpty(envelope[at]))
            {
                var stretch = StretchAt(envelope, at);
                (from, to) = stretch.To - stretch.From > to - from ? stretch : (from, to);
                at = stretch.To;
            }
        }

        if ((to + 1 - from) * envelope.BucketWidthS <= Missing * summary.Rules.MedianIntervalS)
        {
            return null;
        }

        // The rows on either side lie somewhere in their cells; a gap's share of these is marked.
        double partS = envelope[from].BridgedS.Value > 0 ? 0 : envelope.BucketWidthS;
        return new OpenStretch(envelope.StartS(from) - partS, envelope.StartS(to) + envelope.BucketWidthS + partS);
    }

    private static (int From, int To) StretchAt(PowerEnvelope envelope, int at)
    {
        var (from, to) = (at, at);
        while (from > 0 && IsEmpty(envelope[from - 1]))
        {
            from--;
        }

        while (to + 1 < envelope.Count && IsEmpty(envelope[to + 1]))
        {
            to++;
        }

        return (from, to);
    }

    private static bool IsEmpty(in EnvelopeBucket cell) => cell.Readings == 0 || cell.BridgedS.Value > 0;
}
