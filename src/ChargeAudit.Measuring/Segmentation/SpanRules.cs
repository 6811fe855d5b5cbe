using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>What is done to the modes once their borders are known. Pure.</summary>
internal static class SpanRules
{
    /// <summary>Ends a span, and begins the next, at a border that is known.</summary>
    /// <param name="modes">Changed in place.</param>
    /// <param name="span">The span that ends there.</param>
    /// <param name="end">The border.</param>
    public static void EndAt(List<ModeSpan> modes, int span, Border end)
    {
        modes[span] = modes[span] with { EndS = end.TimeS, EndUncertaintyS = end.UncertaintyS, OpenAtEnd = null };
        modes[span + 1] = modes[span + 1] with { StartS = end.TimeS, StartUncertaintyS = end.UncertaintyS, OpenAtStart = null };
    }

    /// <summary>Ends charges where their fall has come down to how far the full device's load wanders by itself.</summary>
    public static List<ModeSpan> WithWanderingEnds(List<ModeSpan> modes, PowerSeries fine, double intervalS, double noiseW,
        double unwrittenW, List<Doubt> doubts)
    {
        var ended = new List<ModeSpan>(modes);
        for (int i = 0; i + 1 < ended.Count; i++)
        {
            if (ended[i].Mode == Mode.Charge && ended[i + 1].Mode == Mode.Maintenance
                && WanderingEnd.Of(fine, ended[i], ended[i + 1], intervalS, noiseW, unwrittenW) is { } end)
            {
                doubts.Add(new(Gravity.Wide, Prose.Of(
                    $"The power of the full device wanders by itself, so the end of the charge at {end.TimeS:F0} s is known to some "
                        + $"{2 * end.UncertaintyS:F0} s only.")));
                EndAt(ended, i, end);
            }
        }

        return ended.Count > 0 && ended[^1] is { Mode: Mode.Charge } last
            && WanderingEnd.OfLast(fine, last, intervalS, noiseW, unwrittenW) is { } before
            ? WithoutLastPart(ended, last, before, doubts)
            : ended;
    }

    // With nothing after it that would show the full device, the last part may be a charge that was throttled as well: the interval holds
    // both.
    private static List<ModeSpan> WithoutLastPart(List<ModeSpan> modes, ModeSpan last, Border end, List<Doubt> doubts)
    {
        doubts.Add(new(Gravity.Wide, Prose.Of(
            $"From {end.TimeS:F0} s to the end of the log power wanders about one low level: it is taken for a full device whose load "
                + $"wanders, and the intervals allow for it still charging.")));
        var open = new OpenStretch(end.TimeS, last.EndS);
        modes[^1] = last with { EndS = end.TimeS, EndUncertaintyS = end.UncertaintyS, OpenAtEnd = open };
        modes.Add(new ModeSpan(Mode.Maintenance, end.TimeS, last.EndS, end.UncertaintyS, last.EndUncertaintyS) { OpenAtStart = open });
        return modes;
    }

    /// <summary>Notes at the border before a charge which stretch may belong to either side of it.</summary>
    public static List<ModeSpan> WithOpenStages(List<ModeSpan> modes, IReadOnlyList<PowerSegment> segments,
        IReadOnlyList<FirstStage> stages)
    {
        var noted = new List<ModeSpan>(modes);
        for (int i = 1; i < noted.Count; i++)
        {
            foreach (var stage in noted[i].Mode == Mode.Charge ? stages : [])
            {
                double from = segments[stage.Stage.From].StartS;
                double to = segments[stage.Stage.To - 1].EndS;
                double reach = Math.Max(60, 0.1 * (to - from));
                if (Math.Abs((stage.IsPart ? from : to) - noted[i].StartS) <= reach)
                {
                    var open = stage.IsPart ? new OpenStretch(noted[i].StartS, to) : new OpenStretch(from, noted[i].StartS);
                    noted[i] = noted[i] with { OpenAtStart = open };
                    noted[i - 1] = noted[i - 1] with { OpenAtEnd = open };
                }
            }
        }

        return noted;
    }

    /// <summary>Notes at the ends of charges which last stair of the fall may be the full device.</summary>
    public static List<ModeSpan> WithOpenStairs(List<ModeSpan> modes, IReadOnlyList<LastStair> stairs, List<Doubt> doubts)
    {
        var noted = new List<ModeSpan>(modes);
        for (int i = 0; i + 1 < noted.Count; i++)
        {
            foreach (var stair in noted[i].Mode == Mode.Charge ? stairs : [])
            {
                if (Math.Abs(stair.EndS - noted[i].EndS) <= Math.Max(60, 0.1 * (stair.EndS - stair.StartS)) && stair.StartS < noted[i].EndS)
                {
                    doubts.Add(new(Gravity.Wide, Prose.Of(
                        $"Power falls in equal steps, and at the last of them, from {stair.StartS:F0} s to {stair.EndS:F0} s, the device "
                            + $"may be full already: it is taken for charge, and the intervals hold the other reading. A log of the "
                            + $"waiting charger, or kind and point in a study, would tell.")));
                    var open = new OpenStretch(stair.StartS, noted[i].EndS);
                    noted[i] = noted[i] with { OpenAtEnd = open };
                    noted[i + 1] = noted[i + 1] with { OpenAtStart = open };
                }
            }
        }

        return noted;
    }
}
