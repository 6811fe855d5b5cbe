namespace ChargeAudit.Comparing.Placement;

/// <summary>Compares further methods with the first one, at positions that were measured for either and lie inside both maps.</summary>
internal static class PlacementDifferences
{
    public static IReadOnlyList<PlacementDifference> Of(IReadOnlyList<MethodPlacement> methods) =>
        [.. methods.Where(m => m.Positions.Count > 0).Skip(1).Select(m => Pair(methods.First(f => f.Positions.Count > 0), m))];

    private static PlacementDifference Pair(MethodPlacement first, MethodPlacement second)
    {
        PlacementDifference None(string why) =>
            new(first.Method, second.Method, [], $"{first.Method} and {second.Method} are not compared position by position: {why}.");
        if (first.Figure != second.Figure)
        {
            return None("they were not measured at the same points");
        }

        var places = first.Positions.Concat(second.Positions).Select(p => (p.XMm, p.YMm)).Distinct().Order().ToList();
        var both = new List<PositionDifference>();
        foreach (var (x, y) in places)
        {
            if (At(first, x, y) is { } a && At(second, x, y) is { } b)
            {
                both.Add(new PositionDifference(x, y, a, b, b - a));
            }
        }

        return both.Count > 0
            ? new PlacementDifference(first.Method, second.Method, both, null)
            : None("no position lies inside both maps");
    }

    private static Metrology.Uncertainty.Measured? At(MethodPlacement method, double xMm, double yMm) =>
        method.Positions.FirstOrDefault(p => p.XMm == xMm && p.YMm == yMm)?.Shown ?? method.Map?.At(xMm, yMm);
}
