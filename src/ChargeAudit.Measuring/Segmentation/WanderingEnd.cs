using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Finds the end of a charge again where the full device draws a load that wanders: its falls look like those of a battery that fills up.
/// What the load does later shows how far it wanders by itself; the charge is over when its fall has come down to that. Pure.
/// </summary>
internal static class WanderingEnd
{
    /// <summary>The load is looked at in pieces of this length, or of this many readings; by their medians, so that short bursts do not
    /// count. [s]</summary>
    private const double PieceS = 60;
    private const double PieceReadings = 3;

    /// <summary>A load counts as wandering if it was seen in this many pieces, and goes up as well as down by this share of its range.
    /// [1]</summary>
    private const int LeastPieces = 12;
    private const double UpShare = 0.5;

    /// <summary>Share of the time from the start of the charge. [1]</summary>
    private const double LastShare = 0.4;

    /// <summary>What wanders at the end of a log lies below this share of what was drawn before, or it is the charge itself. [1]</summary>
    private const double FarBelow = 0.4;

    /// <summary>Its range is this share of its level at least, and at most. [1]</summary>
    private const double LeastRange = 0.01;
    private const double MostRange = 0.5;

    /// <summary>The earlier end, with its standard uncertainty; null where the load does not wander, or the end stays.</summary>
    /// <param name="fine">The finest cells.</param>
    /// <param name="charge">The charge.</param>
    /// <param name="kept">The maintenance after it.</param>
    /// <param name="intervalS">Usual interval between rows. [s]</param>
    /// <param name="noiseW">Scatter of a reading. [W]</param>
    /// <param name="unwrittenW">A change that goes unwritten; what wanders by less does not show. [W]</param>
    public static Border? Of(PowerSeries fine, ModeSpan charge, ModeSpan kept, double intervalS, double noiseW, double unwrittenW = 0)
    {
        int each = Each(fine, intervalS);
        double[] kepts = [.. Pieces(fine, kept.StartS, kept.EndS, each).Select(p => p.PowerW)];

        // Where the charge includes so much of the wandering that little is left after it, the last part of both together is looked at, if
        // what is left lies in the same range.
        double seenS = Math.Max(LeastPieces * each * fine.WidthS, LastShare * (kept.EndS - charge.StartS));
        double[] later = kepts.Length >= LeastPieces
            ? kepts
            : [.. Pieces(fine, Math.Max(charge.StartS, kept.EndS - seenS), kept.EndS, each).Select(p => p.PowerW)];
        return kepts.Length > 0 ? EndBefore(fine, charge, later, kepts.Average(), each, noiseW, unwrittenW) : null;
    }

    /// <summary>Likewise where the log ends with the charge: its last part wanders, far below what it drew before. Whether that is the full
    /// device is not sure.</summary>
    public static Border? OfLast(PowerSeries fine, ModeSpan charge, double intervalS, double noiseW, double unwrittenW = 0)
    {
        int each = Each(fine, intervalS);
        double[] all = [.. Pieces(fine, charge.StartS, charge.EndS, each).Select(p => p.PowerW)];
        if (all.Length < LeastPieces)
        {
            return null;
        }

        // How long the last part is, is not known: the longest one that holds nothing of the fall is taken.
        double most = FarBelow * all.Order().ElementAt((int)(0.9 * all.Length));
        for (double share = LastShare; share * all.Length >= LeastPieces; share *= 0.7)
        {
            double[] later = all[(int)((1 - share) * all.Length)..];
            if (later.Max() < most && EndBefore(fine, charge, later, later.Average(), each, noiseW, unwrittenW) is { } end)
            {
                return end;
            }
        }

        return null;
    }

    private static int Each(PowerSeries fine, double intervalS) =>
        Math.Max(1, (int)Math.Ceiling(Math.Max(PieceS, PieceReadings * intervalS) / fine.WidthS));

    private static Border? EndBefore(PowerSeries fine, ModeSpan charge, double[] later, double meanW, int each, double noiseW,
        double unwrittenW)
    {
        if (later.Length < LeastPieces)
        {
            return null;
        }

        double[] sorted = [.. later.Order()];
        double level = sorted[sorted.Length / 2];
        double low = sorted[sorted.Length / 20];
        double high = sorted[^(1 + (sorted.Length / 20))];
        double range = high - low;
        double scatter = 4 * noiseW / Math.Sqrt(Math.Max(1, each * fine.ReadingsPerCell));
        if (range < Math.Max(Math.Max(LeastRange * level, scatter), unwrittenW) || range > MostRange * level
            || Rise(later) < UpShare * range
            || !(meanW >= low && meanW <= high))
        {
            return null;
        }

        // Back from the end to where power last stood clearly above all that the load does by itself.
        var before = Pieces(fine, charge.StartS, charge.EndS, each).ToList();
        double above = high + (0.25 * range);
        int last = before.FindLastIndex(p => p.PowerW > above);
        if (last < 0 || last + 2 >= before.Count)
        {
            return null;
        }

        // What goes on below all that the load does by itself is still the charge's fall.
        if (before.Skip(last + 1).Count(p => p.PowerW < low - (UpShare * range)) > 1)
        {
            return null;
        }

        // From there on the fall goes to the load's level as fast as it came, and is over no later than where power first lies at that
        // level.
        int first = before.FindIndex(last + 1, p => p.PowerW <= level);
        double mostS = first < 0 ? charge.EndS : before[first].MiddleS;
        double slope = Slope(before, last, level);
        double endS = slope > 0 ? Math.Min(mostS, before[last].MiddleS + ((before[last].PowerW - level) / slope)) : mostS;
        endS = Math.Max(endS, before[last].MiddleS + (0.5 * each * fine.WidthS));
        double piece = each * fine.WidthS;
        double u = Math.Sqrt((piece * piece / 12) + (Math.Pow(Math.Max(endS - before[last].MiddleS, mostS - endS), 2) / 3));
        return charge.EndS - endS > 2 * piece ? new Border(endS, u) : null;
    }

    private static double Rise(double[] values)
    {
        double least = double.PositiveInfinity;
        double rise = 0;
        foreach (double value in values)
        {
            least = Math.Min(least, value);
            rise = Math.Max(rise, value - least);
        }

        return rise;
    }

    // Fall per second over the last pieces that stand above the load's range.
    private static double Slope(List<(double MiddleS, double PowerW)> pieces, int last, double level)
    {
        int from = last;
        while (from > 0 && last - from < LeastPieces && pieces[from - 1].PowerW - level < 3 * (pieces[last].PowerW - level)
            && pieces[from - 1].PowerW >= pieces[from].PowerW)
        {
            from--;
        }

        return from < last ? (pieces[from].PowerW - pieces[last].PowerW) / (pieces[last].MiddleS - pieces[from].MiddleS) : 0;
    }

    private static IEnumerable<(double MiddleS, double PowerW)> Pieces(PowerSeries fine, double fromS, double toS, int each)
    {
        int first = fine.IndexAt(fromS);
        int end = Math.Min(fine.Count, fine.IndexAt(toS));
        for (int i = first; i + each <= end; i += each)
        {
            var sorted = fine.PowerW.AsSpan(i, each).ToArray();
            RisingOrder.Sort(sorted);
            yield return (0.5 * (fine.StartS[i] + fine.EndS(i + each - 1)), sorted[each / 2]);
        }
    }
}
