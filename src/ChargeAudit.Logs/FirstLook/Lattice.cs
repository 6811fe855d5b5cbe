namespace ChargeAudit.Logs.FirstLook;

/// <summary>Finds the step of the lattice on which a meter's readings lie.</summary>
internal static class Lattice
{
    private const int FewestSteps = 3;
    private const double Share = 0.98;

    /// <summary>
    /// The smallest difference between neighbouring different values, provided nearly all values are whole multiples of it apart.
    /// Not the digits: readings in steps of 2 W are printed with as many digits as those in steps of 1 W.
    /// </summary>
    /// <param name="values">Readings in any order; NaN is passed over.</param>
    /// <returns>The step, in the readings' unit; null where the values show no lattice, or too few different ones.</returns>
    public static double? Step(IEnumerable<double> values)
    {
        double[] different = [.. values.Where(double.IsFinite).Distinct().Order()];
        if (different.Length < 2)
        {
            return null;
        }

        // Values that are printed alike may differ in the last bit once they are scaled.
        double tiny = 1e-9 * Math.Max(Math.Abs(different[0]), Math.Abs(different[^1]));
        double[] steps = [.. different.Zip(different.Skip(1), (a, b) => b - a).Where(s => s > tiny).Order()];
        if (steps.Length == 0)
        {
            return null;
        }

        double step = steps[0];
        int whole = steps.Count(s => Math.Abs((s / step) - Math.Round(s / step)) < 0.02);
        if (steps.Length < FewestSteps)
        {
            return whole == steps.Length ? step : null;
        }

        return whole >= Share * steps.Length ? step : null;
    }
}
