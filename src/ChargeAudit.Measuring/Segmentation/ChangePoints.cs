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
        var candidates = new int[n + 1];
        var doomedAt = new int[n + 1];
        var totals = new double[n + 1];
        candidates[0] = 0;
        int count = 1;
        for (int end = LeastCells; end <= n; end++)
        {
            int newest = end - LeastCells;
            if (newest >= LeastCells)
            {
                candidates[count++] = newest;
            }

            for (int i = 0; i < count; i++)
            {
                totals[i] = best[candidates[i]] + cost.Of(candidates[i], end);
                if (totals[i] + penalty < best[end])
                {
                    best[end] = totals[i] + penalty;
                    previous[end] = candidates[i];
                }
            }

            // A start that is dearer than a change right here can never win once a stretch may begin here: the pruning of the paper, with
            // K = 0, put off until that stretch has its least length.
            int kept = 0;
            for (int i = 0; i < count; i++)
            {
                int start = candidates[i];
                if (doomedAt[start] == 0 && totals[i] > best[end])
                {
                    doomedAt[start] = end + LeastCells;
                }

                if (doomedAt[start] == 0 || doomedAt[start] > end)
                {
                    candidates[kept++] = start;
                }
            }

            count = kept;
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
