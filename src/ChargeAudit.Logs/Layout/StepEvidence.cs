using ChargeAudit.Logs.FirstLook;

namespace ChargeAudit.Logs.Layout;

/// <summary>What the rows looked at say of a quantity's steps.</summary>
/// <param name="Printed">One in the last printed place. [coherent unit]</param>
/// <param name="Lattice">Step of the lattice on which the values lie; null where there are too few different ones to tell. [coherent unit]</param>
/// <param name="Different">Different values, at most <see cref="Kept"/>, the smallest ones.</param>
internal sealed record StepEvidence(double Printed, double? Lattice, double[] Different)
{
    /// <summary>How many different values are kept, to be looked at with those of the meter's other logs.</summary>
    public const int Kept = 256;

    /// <summary>The step: the coarser of the two. [coherent unit]</summary>
    public double Step => Math.Max(Printed, Lattice ?? 0);

    /// <summary>The evidence of the rows looked at.</summary>
    public static Dictionary<LogQuantity, StepEvidence> Of(IReadOnlyList<SamplingFinder.Run> runs, IReadOnlyDictionary<LogQuantity, double> printed)
    {
        var found = new Dictionary<LogQuantity, StepEvidence>();
        foreach (LogQuantity quantity in runs.SelectMany(r => r.Values.Keys).Distinct())
        {
            double[] values = [.. runs.SelectMany(r => r.Values.TryGetValue(quantity, out double[]? v) ? v : [])];
            double place = printed.GetValueOrDefault(quantity, 0);
            double? lattice = Logs.FirstLook.Lattice.Step(values, place);
            if (quantity is LogQuantity.Energy or LogQuantity.Charge)
            {
                lattice = Logs.FirstLook.Lattice.CounterStep(values) ?? lattice;
            }

            found[quantity] = new StepEvidence(place, lattice, [.. values.Where(double.IsFinite).Distinct().Order().Take(Kept)]);
        }

        return found;
    }

    /// <summary>
    /// Whether a power column is the product of the printed voltage and current: it then has more digits than the readings behind it, and their steps are hidden in it.
    /// </summary>
    public static bool PowerIsProduct(IReadOnlyList<SamplingFinder.Run> runs, IReadOnlyDictionary<LogQuantity, double> printed)
    {
        double place = printed.GetValueOrDefault(LogQuantity.Power, 0);
        int rows = 0, equal = 0;
        foreach (var run in runs)
        {
            if (!run.Values.TryGetValue(LogQuantity.Power, out double[]? power) || !run.Values.TryGetValue(LogQuantity.Voltage, out double[]? voltage)
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

        // A column of its own agrees with the product to its last place by chance only; few printed places say nothing.
        double hidden = printed.GetValueOrDefault(LogQuantity.Current, 0) * MeanVoltage(runs);
        return rows >= 8 && equal >= 0.95 * rows && hidden > 4 * place;
    }

    private static double MeanVoltage(IReadOnlyList<SamplingFinder.Run> runs)
    {
        double[] volts = [.. runs.SelectMany(r => r.Values[LogQuantity.Voltage]).Where(double.IsFinite)];
        return volts.Length > 0 ? Math.Abs(volts.Average()) : 0;
    }
}
