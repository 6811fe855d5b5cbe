using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Recognises apparent power in a column that is named power. A charger's power factor on the mains lies well below one and changes with
/// its load, so real power does not equal the product of effective voltage and current; a column that does so row by row, as far as the
/// digits tell, was worked out from them.
/// </summary>
internal static class ApparentPowerColumn
{
    private const int LeastRows = 20;
    private const double LeastShare = 0.95;

    // Where the digits leave more room than this, a true power factor might lie within it.
    private const double LargestRoom = 0.01;

    // Below this many steps the digits of power tell nothing.
    private const double LeastSteps = 4;

    /// <summary>Whether power is the product in nearly all rows that tell.</summary>
    /// <param name="runs">The rows looked at.</param>
    public static bool IsProduct(IReadOnlyList<SamplingFinder.Run> runs)
    {
        double stepW = Step(runs, LogQuantity.Power), stepV = Step(runs, LogQuantity.Voltage), stepA = Step(runs, LogQuantity.Current);
        int tell = 0;
        int equal = 0;
        foreach (SamplingFinder.Run run in runs)
        {
            if (!run.Values.TryGetValue(LogQuantity.Power, out double[]? power)
                || !run.Values.TryGetValue(LogQuantity.Voltage, out double[]? volts)
                || !run.Values.TryGetValue(LogQuantity.Current, out double[]? amperes))
            {
                continue;
            }

            for (int i = 0; i < power.Length; i++)
            {
                double product = volts[i] * amperes[i];
                if (!(product > LeastSteps * stepW))
                {
                    continue;
                }

                double room = (0.5 * (stepW + (stepV * amperes[i]) + (stepA * volts[i]))) + (1e-9 * product);
                double closest = 0.5001 * stepW;
                double deviation = Math.Abs(power[i] - product);
                if (room <= LargestRoom * product || deviation <= closest)
                {
                    tell++;
                    equal += deviation <= Math.Max(room, closest) ? 1 : 0;
                }
                else if (deviation > room)
                {
                    tell++;
                }
            }
        }

        return tell >= LeastRows && equal >= LeastShare * tell;
    }

    // The least distance between different values: what a digit is worth.
    private static double Step(IReadOnlyList<SamplingFinder.Run> runs, LogQuantity quantity)
    {
        double[] values = [.. runs.SelectMany(r => r.Values.TryGetValue(quantity, out double[]? v) ? v : []).Where(double.IsFinite)
            .Distinct().Order()];
        double least = double.PositiveInfinity;
        for (int i = 1; i < values.Length; i++)
        {
            double step = values[i] - values[i - 1];
            least = step > 1e-9 * Math.Abs(values[i]) ? Math.Min(least, step) : least;
        }

        return double.IsFinite(least) ? least : 0;
    }
}
