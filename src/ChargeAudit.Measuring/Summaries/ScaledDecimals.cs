namespace ChargeAudit.Measuring.Summaries;

/// <summary>
/// Readings as whole numbers of a decimal place of the unit that they were printed in. A log prints decimals, so the whole number, divided
/// and multiplied as the reader of the log did it, brings the same bits back; where it does not, there is no such form.
/// </summary>
/// <param name="Digits">Decimal places; below zero: zeros at the end that are left out.</param>
/// <param name="Factor">Coherent units per printed unit.</param>
internal readonly record struct ScaledDecimals(int Digits, double Factor)
{
    /// <summary>Most decimal places.</summary>
    public const int MostDigits = 9;

    // Beyond this not every whole number is a double.
    private const double Greatest = 1e15;

    private static readonly double[] Powers = [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9];

    /// <summary>The reading that a whole number stands for. [coherent unit]</summary>
    public double Value(long whole) => (Digits >= 0 ? whole / Powers[Digits] : whole * Powers[-Digits]) * Factor;

    /// <summary>The whole number that stands for a reading; meaningless where <see cref="TryFind"/> was not asked.</summary>
    public long Whole(double value) => (long)Rounded(value);

    /// <summary>Finds the fewest decimal places that bring all readings back bit for bit.</summary>
    /// <param name="values">The readings; NaN for one that is missing. [coherent unit]</param>
    /// <param name="factor">Coherent units per printed unit.</param>
    /// <param name="fewest">Decimal places to begin with.</param>
    public static ScaledDecimals? TryFind(ReadOnlySpan<double> values, double factor, int fewest = 0)
    {
        var form = new ScaledDecimals(fewest, factor);
        foreach (double value in values)
        {
            // More places hold what fewer do: the quotient that is rounded is the same.
            while (!double.IsNaN(value) && !form.Holds(value))
            {
                form = form with { Digits = form.Digits + 1 };
                if (form.Digits > MostDigits)
                {
                    return null;
                }
            }
        }

        return form;
    }

    private double Rounded(double value) =>
        Math.Round(Digits >= 0 ? value / Factor * Powers[Digits] : value / Factor / Powers[-Digits]);

    private bool Holds(double value)
    {
        double whole = Rounded(value);
        return Math.Abs(whole) <= Greatest
            && BitConverter.DoubleToInt64Bits(Value((long)whole)) == BitConverter.DoubleToInt64Bits(value);
    }
}
