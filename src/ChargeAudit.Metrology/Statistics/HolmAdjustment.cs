namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// Probabilities of several tests made comparable with one level for all: the chance of a single false alarm among them stays at that
/// level.
/// <i>Source:</i> S. Holm, Scandinavian Journal of Statistics 6 (1979) 65–70.
/// </summary>
public static class HolmAdjustment
{
    /// <summary>Adjusted probabilities, in the order given.</summary>
    /// <param name="probabilities">Probabilities of the single tests, 0 to 1. [1]</param>
    public static double[] Adjust(ReadOnlySpan<double> probabilities)
    {
        double[] p = probabilities.ToArray();
        int[] order = [.. Enumerable.Range(0, p.Length).OrderBy(i => p[i])];
        var adjusted = new double[p.Length];
        double greatest = 0;
        for (int rank = 0; rank < order.Length; rank++)
        {
            greatest = Math.Max(greatest, Math.Min(1, (order.Length - rank) * p[order[rank]]));
            adjusted[order[rank]] = greatest;
        }

        return adjusted;
    }
}
