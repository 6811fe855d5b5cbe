namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Where the behaviour of a series changes: the set of change points that makes twice the negative log-likelihood plus a penalty for each
/// change least, found exactly by dynamic programming whose candidates are pruned. <i>Source:</i> R. Killick, P. Fearnhead, I. A. Eckley,
/// Optimal detection of changepoints with a linear computational cost, Journal of the American Statistical Association 107 (2012)
/// 1590–1598, section 3.
/// </summary>
internal static class ChangePoints
{
    /// <summary>Fewest cells of a stretch: a line and a variance need three.</summary>
    public const int LeastCells = 3;

    /// <summary>Starts of all stretches, in order; the first is 0.</summary>
    /// <param name="cost">Cost of a stretch; splitting a stretch must never raise the sum (true of a likelihood).</param>
    /// <param name="penalty">Cost of each further stretch.</param>
    public static List<int> Find(SegmentCost cost, double penalty)
    {
        int n = cost.Count;
        var best = new double[n + 1];
        var previous = new int[n + 1];
        best[0] = -penalty;
        best.AsSpan(1).Fill(double.PositiveInfinity);
        var doomedAt = new int[n + 1];
        var open = new StretchStarts(cost);
        open.Add(0, best[0]);
        for (int end = LeastCells; end <= n; end++)
        {
            int newest = end - LeastCells;
            if (newest >= LeastCells)
            {
                open.Add(newest, best[newest]);
            }

            // The first of the best starts: whatever cannot be as good as the one that looks best is passed over.
            int likely = open.Bound(end);
            double within = likely < 0 ? double.PositiveInfinity : open.Total(likely, end) + penalty;
            var least = open.Least;
            for (int i = 0; i < least.Length; i++)
            {
                if (least[i] + penalty <= within && open.Total(i, end) + penalty is var total && total < best[end])
                {
                    best[end] = total;
                    previous[end] = open[i];
                }
            }

            // A start that is dearer than a change right here can never win once a stretch may begin here: the pruning of the paper, with
            // K = 0, put off until that stretch has its least length.
            int closed = 0;
            for (int i = 0; i < least.Length; i++)
            {
                ref int doomed = ref doomedAt[open[i]];
                if (doomed == 0 && (least[i] > best[end] || (!(open.Most(i, end) <= best[end]) && open.Total(i, end) > best[end])))
                {
                    doomed = end + LeastCells;
                }

                closed += doomed != 0 && doomed <= end ? 1 : 0;
            }

            if (closed > 0)
            {
                open.Keep(start => doomedAt[start] == 0 || doomedAt[start] > end);
            }
        }

        var starts = new List<int>();
        for (int end = n; end > 0; end = previous[end])
        {
            starts.Add(previous[end]);
        }

        starts.Reverse();
        return starts.Count == 0 ? [0] : starts;
    }
}
