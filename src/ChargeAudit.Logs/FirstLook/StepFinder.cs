using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Finds the steps of a log's quantities in the rows looked at.</summary>
internal static class StepFinder
{
    /// <summary>The evidence of the rows looked at.</summary>
    public static Dictionary<LogQuantity, StepEvidence> Of(IReadOnlyList<SamplingFinder.Run> runs,
        IReadOnlyDictionary<LogQuantity, double> printed)
    {
        var found = new Dictionary<LogQuantity, StepEvidence>();
        foreach (LogQuantity quantity in runs.SelectMany(r => r.Values.Keys).Distinct())
        {
            double[][] parts = [.. runs.Select(r => r.Values.TryGetValue(quantity, out double[]? v) ? v : [])];
            double[] values = Together(parts);
            double place = printed.GetValueOrDefault(quantity, 0);
            double[] different = Lattice.Different(values, place);
            double? lattice = Lattice.Step(values.Count(double.IsFinite), different, place);
            if (quantity is LogQuantity.Energy or LogQuantity.Charge)
            {
                lattice = Lattice.CounterStep(values) ?? lattice;
            }

            found[quantity] = new StepEvidence(place, lattice, [.. different.Take(StepEvidence.Kept)]);
        }

        return found;
    }

    private static double[] Together(double[][] parts)
    {
        var values = new double[parts.Sum(p => p.Length)];
        int at = 0;
        foreach (double[] part in parts)
        {
            part.CopyTo(values, at);
            at += part.Length;
        }

        return values;
    }

    /// <summary>
    /// Whether a power column is the product of the printed voltage and current: it then has more digits than the readings behind it, and
    /// their steps are hidden in it.
    /// </summary>
    public static bool PowerIsProduct(IReadOnlyList<SamplingFinder.Run> runs, IReadOnlyDictionary<LogQuantity, double> printed)
    {
        double place = printed.GetValueOrDefault(LogQuantity.Power, 0);
        int rows = 0, equal = 0;
        foreach (var run in runs)
        {
            if (!run.Values.TryGetValue(LogQuantity.Power, out double[]? power)
                || !run.Values.TryGetValue(LogQuantity.Voltage, out double[]? voltage)
                || !run.Values.TryGetValue(LogQuantity.Current, out double[]? current))
            {
                return false;
            }

            for (int i = 0; i < power.Length; i++)
            {
                double product = voltage[i] * current[i];
                if (double.IsFinite(product) && double.IsFinite(power[i]) && product != 0)
                {
                    rows++;
                    equal += Math.Abs(power[i] - product) <= (1.01 * place) + (1e-9 * Math.Abs(product)) ? 1 : 0;
                }
            }
        }

        // A column of its own agrees with the product to its last place by chance only; where few places are printed, that says nothing.
        double hidden = printed.GetValueOrDefault(LogQuantity.Current, 0) * MeanVoltage(runs);
        return rows >= 8 && equal >= 0.95 * rows && hidden > 4 * place;
    }

    private static double MeanVoltage(IReadOnlyList<SamplingFinder.Run> runs)
    {
        double[] volts = [.. runs.SelectMany(r => r.Values[LogQuantity.Voltage]).Where(double.IsFinite)];
        return volts.Length > 0 ? Math.Abs(volts.Average()) : 0;
    }
}
