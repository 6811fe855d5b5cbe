using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Counting;

/// <summary>How old a counter's value may be where it is read more often than it is renewed.</summary>
/// <param name="OldestS">How old; zero where every row brings a new value, and where nothing tells. [s]</param>
/// <param name="UnsureS">How far the time of a value is not known. [s]</param>
internal readonly record struct CounterRefresh(double OldestS, double UnsureS)
{
    /// <summary>An advance of this many steps was not waited for: more had flowed than the counter showed. [1]</summary>
    private const double SeveralSteps = 1.5;

    /// <summary>So many such advances tell how often there is a new value. [1]</summary>
    private const int LeastAdvances = 5;

    /// <summary>A counter whose new values lie further apart than this many rows is read more often than it is renewed. [1]</summary>
    private const double MoreThanARow = 1.5;

    /// <summary>What the readings of a counter show.</summary>
    /// <param name="counted">Readings with advances added up, in order.</param>
    /// <param name="stepJ">Step of the counter. [J]</param>
    public static CounterRefresh Of(IReadOnlyList<(double TimeS, double EnergyJ)> counted, double stepJ)
    {
        var rows = new List<double>();
        var apart = new List<double>();
        double stepS = counted.Count > 0 ? counted[0].TimeS : 0;
        for (int i = 1; i < counted.Count; i++)
        {
            rows.Add(counted[i].TimeS - counted[i - 1].TimeS);
            double advanceJ = counted[i].EnergyJ - counted[i - 1].EnergyJ;
            if (advanceJ > 0)
            {
                if (advanceJ >= SeveralSteps * stepJ)
                {
                    apart.Add(counted[i].TimeS - stepS);
                }

                stepS = counted[i].TimeS;
            }
        }

        if (apart.Count < LeastAdvances)
        {
            return default;
        }

        double rowS = HighMedian.Of([.. rows]), newS = HighMedian.Of([.. apart]);
        return newS > MoreThanARow * rowS ? new CounterRefresh(newS + rowS, 2 * rowS) : default;
    }
}
