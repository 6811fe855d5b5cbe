namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>Nodes for means over a distribution by its probabilities.</summary>
internal static class QuadratureNodes
{
    /// <summary>Midpoints that crowd towards 0 and 1, where the tails are decided; the weights add up to 1.</summary>
    /// <param name="count">How many. [1]</param>
    public static IReadOnlyList<(double Probability, double Weight)> OfTails(int count)
    {
        double Edge(double v) => v * v * v * (10 - (15 * v) + (6 * v * v));
        var nodes = new List<(double, double)>(count);
        for (int i = 0; i < count; i++)
        {
            double from = Edge((double)i / count), to = Edge((i + 1.0) / count);
            nodes.Add((0.5 * (from + to), to - from));
        }

        return nodes;
    }
}
