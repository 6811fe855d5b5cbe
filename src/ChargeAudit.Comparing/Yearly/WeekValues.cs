namespace ChargeAudit.Comparing.Yearly;

/// <summary>
/// A value that changes over time, such as a price, summed by the quarter of the local week in which it holds. A use that repeats every
/// week meets each quarter of the week as often as the calendar has it, so these sums weight it exactly, summer time included.
/// </summary>
public sealed class WeekValues
{
    private readonly double[] _sum;
    private readonly double[] _count;

    /// <summary>An empty sum.</summary>
    public WeekValues() => (_sum, _count) = (new double[WeekPlan.Quarters], new double[WeekPlan.Quarters]);

    /// <summary>Least value added; positive infinity where there was none.</summary>
    public double Least { get; private set; } = double.PositiveInfinity;

    /// <summary>Greatest value added; negative infinity where there was none.</summary>
    public double Greatest { get; private set; } = double.NegativeInfinity;

    /// <summary>A value that is the same at all times.</summary>
    public static WeekValues Flat(double value)
    {
        var flat = new WeekValues();
        for (int q = 0; q < WeekPlan.Quarters; q++)
        {
            flat.Add(q, value);
        }

        return flat;
    }

    /// <summary>Adds the value of one quarter of an hour.</summary>
    /// <param name="quarter">Quarter of the local week, from Monday 00:00, counted from 0.</param>
    /// <param name="value">The value that holds in it.</param>
    public void Add(int quarter, double value)
    {
        _sum[quarter] += value;
        _count[quarter]++;
        Least = Math.Min(Least, value);
        Greatest = Math.Max(Greatest, value);
    }

    /// <summary>Mean value over the times at which a mode happens; zero where it never does.</summary>
    /// <param name="share">Share of each quarter of the week spent in the mode; 672 numbers.</param>
    public double MeanOver(ReadOnlySpan<double> share)
    {
        double sum = 0;
        double weight = 0;
        for (int q = 0; q < share.Length; q++)
        {
            sum += share[q] * _sum[q];
            weight += share[q] * _count[q];
        }

        return weight == 0 ? 0 : sum / weight;
    }
}
