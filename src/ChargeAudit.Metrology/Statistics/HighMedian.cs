namespace ChargeAudit.Metrology.Statistics;

/// <summary>The middle one of values in order; of an even count the greater of the two in the middle, so that it is always one of the
/// values.</summary>
public static class HighMedian
{
    /// <summary>From the median absolute deviation of a normal distribution to its standard deviation: 1/Φ⁻¹(3/4). [1]</summary>
    private const double ToStandardDeviation = 1.4826;

    /// <summary>The middle one.</summary>
    /// <param name="values">One value or more, in any order; they are sorted.</param>
    public static double Of(Span<double> values)
    {
        RisingOrder.Sort(values);
        return values[values.Length / 2];
    }

    /// <summary>How far values lie from a middle, as the standard deviation of a normal distribution with the same median absolute
    /// deviation.</summary>
    /// <param name="values">One value or more.</param>
    /// <param name="middle">The middle.</param>
    public static double Scatter(ReadOnlySpan<double> values, double middle)
    {
        var away = values.ToArray();
        for (int i = 0; i < away.Length; i++)
        {
            away[i] = Math.Abs(away[i] - middle);
        }

        return ToStandardDeviation * Of(away);
    }
}
