namespace ChargeAudit.Analysis.Segmentation;

/// <summary>A border with its standard uncertainty.</summary>
/// <param name="TimeS">Where. [s]</param>
/// <param name="UncertaintyS">Standard uncertainty. [s]</param>
internal readonly record struct Border(double TimeS, double UncertaintyS);

/// <summary>Finds a border again on the finest cells, around where the coarse cells put it.</summary>
internal sealed class BorderRefiner(PowerSeries fine, SegmentCost cost, double intervalS, double noiseW)
{
    /// <summary>The likeliest place of a change between two times, and how sure that is.</summary>
    /// <param name="fromS">The change lies after this. [s]</param>
    /// <param name="toS">The change lies before this. [s]</param>
    /// <param name="coarseS">Where coarse cells put it. [s]</param>
    /// <param name="rises">Whether power goes up there.</param>
    public Border Refine(double fromS, double toS, double coarseS, bool rises)
    {
        int from = Math.Clamp(fine.IndexAt(fromS), 0, fine.Count);
        int to = Math.Clamp(fine.IndexAt(toS - (1e-6 * fine.WidthS)) + 1, from, fine.Count);
        if (to - from < 4)
        {
            return new Border(coarseS, Math.Max(intervalS, fine.WidthS) / Math.Sqrt(3));
        }

        var costs = new double[to - from + 1];
        int best = from + 1;
        double least = double.PositiveInfinity;
        for (int split = from + 1; split < to; split++)
        {
            double total = cost.Of(from, split) + cost.Of(split, to);
            costs[split - from] = total;
            if (total < least)
            {
                least = total;
                best = split;
            }
        }

        // The profile of the likelihood as a distribution over places gives the statistical part of the uncertainty.
        double weightSum = 0;
        double first = 0;
        double second = 0;
        for (int split = from + 1; split < to; split++)
        {
            double weight = Math.Exp(-0.5 * (costs[split - from] - least));
            double away = fine.StartS[split] - fine.StartS[best];
            weightSum += weight;
            first += weight * away;
            second += weight * away * away;
        }

        double statistical = Math.Sqrt(Math.Max(0, (second / weightSum) - Math.Pow(first / weightSum, 2)));
        var border = Onset(from, best, to, rises);
        double sampling = Math.Max(intervalS, fine.WidthS) / Math.Sqrt(12);
        double gap = border.UncertaintyS;
        return border with { UncertaintyS = Math.Sqrt((statistical * statistical) + (sampling * sampling) + (gap * gap)) };
    }

    /// <summary>The foot of the step: between two readings the log runs in a straight line, so the step lies halfway along the last such line.</summary>
    private Border Onset(int from, int best, int to, bool rises)
    {
        var low = rises ? cost.Fit(from, best) : cost.Fit(best, to);
        int reach = Math.Max(2, (int)Math.Ceiling(3 * intervalS / fine.WidthS));
        int edge = best;
        double limit = Math.Max(4 * Math.Sqrt(low.VarianceW2), 4 * noiseW);
        if (rises)
        {
            while (edge - 1 > from && best - edge < reach && fine.PowerW[edge - 1] > low.EndW + limit)
            {
                edge--;
            }
        }
        else
        {
            while (edge + 1 < to && edge - best < reach && fine.PowerW[edge] > low.StartW + limit)
            {
                edge++;
            }
        }

        double before = fine.EndS(edge - 1);
        double after = fine.StartS[edge];
        return new Border(0.5 * (before + after), (after - before) / Math.Sqrt(12));
    }
}
