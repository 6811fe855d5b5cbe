namespace ChargeAudit.Measuring.Standby;

/// <summary>
/// Power of a slow load from the times at which an energy counter steps. Between two steps the energy is known exactly and only the times
/// are not, so where a counter steps less often than it is read, its steps tell the power far better than its first and last reading do.
/// </summary>
internal static class CounterSteps
{
    /// <summary>Fewer steps than this cannot show how regularly they come.</summary>
    private const int Least = 4;

    /// <summary>From a step to a later one; null where there are too few.</summary>
    /// <param name="timeS">Times of the counter's readings, rising. [s]</param>
    /// <param name="energyJ">Counter, as many. [J]</param>
    /// <param name="from">First reading that counts.</param>
    /// <param name="to">Last reading that counts.</param>
    /// <param name="stepJ">Step of the counter, over 0. [J]</param>
    /// <returns>Mean power [W], its standard uncertainty by the times of the steps [W], and the two times [s].</returns>
    public static (double PowerW, double StandardUncertaintyW, double FromS, double ToS)? Of(
        IReadOnlyList<double> timeS, IReadOnlyList<double> energyJ, int from, int to, double stepJ)
    {
        var steps = new List<(double TimeS, double EnergyJ)>();
        double widestS = 0;
        double before = 0;
        for (int k = from + 1; k <= to; k++)
        {
            double counted = Math.Round((energyJ[k] - energyJ[from]) / stepJ) * stepJ;
            if (counted > before)
            {
                steps.Add((0.5 * (timeS[k - 1] + timeS[k]), counted));
                widestS = Math.Max(widestS, timeS[k] - timeS[k - 1]);
                before = counted;
            }
        }

        if (steps.Count < Least)
        {
            return null;
        }

        double lengthS = steps[^1].TimeS - steps[0].TimeS;
        double powerW = (steps[^1].EnergyJ - steps[0].EnergyJ) / lengthS;

        // Each step fell somewhere between two readings. A counter that rarely refreshes its display, or a load that comes in lumps, makes
        // the steps irregular beyond that, and the scatter about even steps shows it.
        double square = 0;
        foreach (var (at, energy) in steps)
        {
            double apart = at - steps[0].TimeS - ((energy - steps[0].EnergyJ) / powerW);
            square += apart * apart;
        }

        double oneS = Math.Max(widestS / Math.Sqrt(12), Math.Sqrt(square / (steps.Count - 2)));
        return (powerW, powerW * Math.Sqrt(2) * oneS / lengthS, steps[0].TimeS, steps[^1].TimeS);
    }
}
