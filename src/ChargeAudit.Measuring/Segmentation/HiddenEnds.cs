using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Notes where the end of a charge is hidden in a step of the readings. Where power goes down by one step only, the fall's last part and
/// the full device's level may read the same: the charge ended anywhere while that reading stood. Pure.
/// </summary>
internal static class HiddenEnds
{
    private const double HalfStep = 0.5;

    /// <summary>A step of less than this share of the level hides next to nothing. [1]</summary>
    private const double CoarseShare = 0.1;

    /// <summary>The modes with the middle of such a stretch as the end, and with the whole of it open.</summary>
    /// <param name="modes">The modes.</param>
    /// <param name="fine">The finest cells.</param>
    /// <param name="stepW">Step of the readings; zero for none. [W]</param>
    /// <param name="intervalS">Usual interval between rows. [s]</param>
    /// <param name="doubts">Gets a sentence for each.</param>
    public static List<ModeSpan> Noted(IReadOnlyList<ModeSpan> modes, PowerSeries fine, double stepW, double intervalS, List<Doubt> doubts)
    {
        var noted = new List<ModeSpan>(modes);
        for (int i = 0; stepW > 0 && i + 1 < noted.Count; i++)
        {
            if (noted[i].Mode != Mode.Charge || noted[i + 1].Mode == Mode.Charge
                || Hidden(fine, noted[i], noted[i + 1], stepW, intervalS) is not { } open)
            {
                continue;
            }

            double middle = 0.5 * (open.FromS + open.ToS);
            doubts.Add(new(Gravity.Wide, Prose.Of(
                $"The readings come in steps of {stepW:G3} W, and the charge ends while the reading stays the same, from {open.FromS:F0} "
                    + $"s to {open.ToS:F0} s: where in that time cannot be seen, and the intervals hold either end of it.")));
            noted[i] = noted[i] with { EndS = middle, OpenAtEnd = open };
            noted[i + 1] = noted[i + 1] with { StartS = middle, OpenAtStart = open };
        }

        return noted;
    }

    private static OpenStretch? Hidden(PowerSeries fine, ModeSpan charge, ModeSpan next, double stepW, double intervalS)
    {
        double borderS = charge.EndS;
        double reach = Math.Max(4 * intervalS, 4 * fine.WidthS);
        var before = PieceTrack.Of(fine, Math.Max(charge.StartS, borderS - reach), borderS - (0.5 * fine.WidthS));
        var after = PieceTrack.Of(fine, borderS + (0.5 * fine.WidthS), Math.Min(next.EndS, borderS + reach));
        double beforeW = before.MedianW(0, before.Count);
        double afterW = after.MedianW(0, after.Count);
        double down = beforeW - afterW;
        bool coarse = stepW >= CoarseShare * Math.Abs(beforeW);
        if (!(coarse && down > -HalfStep * stepW && down <= RestOfFall.OneStep * stepW))
        {
            return null;
        }

        // Nothing is drawn after it, or the waiting charger's power: then it is the reading before that may hold the end.
        if (next.Mode is Mode.NoLoad or Mode.Off)
        {
            var track = PieceTrack.Of(fine, charge.StartS, borderS);
            int from = Array.FindLastIndex(track.PowerW, p => p > beforeW + (HalfStep * stepW)) + 1;
            return from < track.Count && from > 0 ? new OpenStretch(track.StartS(from), borderS) : null;
        }

        var rest = PieceTrack.Of(fine, borderS, next.EndS);
        int below = Array.FindIndex(rest.PowerW, p => p < afterW - (HalfStep * stepW));
        double toS = below < 0 ? next.EndS : rest.StartS(below);
        return toS > borderS + intervalS ? new OpenStretch(borderS, toS) : null;
    }
}
