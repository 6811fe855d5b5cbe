using System.Runtime.CompilerServices;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// A running sum with its rounding error kept beside it, so that adding pieces in any grouping gives the same double.
/// The default value is an empty sum. Not safe for concurrent writers.
/// <i>Source:</i> A. Neumaier, Zeitschrift für angewandte Mathematik und Mechanik 54 (1974) 39–51.
/// </summary>
/// <param name="Sum">The plain sum so far.</param>
/// <param name="Compensation">What rounding has lost of it so far.</param>
public readonly record struct CompensatedSum(double Sum, double Compensation)
{
    /// <summary>The best double for the whole.</summary>
    public double Value => Sum + Compensation;

    /// <summary>The sum with one more term.</summary>
    /// <remarks>The rounding error is found without asking which term is the larger: a comparison that goes now one way and now the other
    /// costs more than two additions.</remarks>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static CompensatedSum operator +(CompensatedSum a, double term)
    {
        double sum = a.Sum + term;
        double taken = sum - a.Sum;
        double lost = (a.Sum - (sum - taken)) + (term - taken);
        return new CompensatedSum(sum, a.Compensation + lost);
    }

    /// <summary>The sum of two pieces.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static CompensatedSum operator +(CompensatedSum a, CompensatedSum b)
    {
        var joined = a + b.Sum;
        return joined with { Compensation = joined.Compensation + b.Compensation };
    }
}
