namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// Dependence between neighbouring readings. Readings that follow one another closely repeat each other, and their mean is then worth fewer
/// readings than were taken.
/// <i>Source:</i> lag-1 coefficient as in NIST StRD, univariate; first-order autoregression for the rest (common practice, no source).
/// </summary>
public static class Autocorrelation
{
    /// <summary>Lag-1 coefficient Σ(yᵢ − ȳ)(yᵢ₊₁ − ȳ)/Σ(yᵢ − ȳ)²; zero for fewer than two values or a constant series.</summary>
    /// <param name="values">Readings in order of time, equally spaced.</param>
    public static double Lag1(ReadOnlySpan<double> values)
    {
        if (values.Length < 2)
        {
            return 0;
        }

        double mean = SampleStatistics.Of(values).Mean;
        CompensatedSum products = default, squares = default;
        for (int i = 0; i < values.Length; i++)
        {
            double d = values[i] - mean;
            squares += d * d;
            if (i + 1 < values.Length)
            {
                products += d * (values[i + 1] - mean);
            }
        }

        return squares.Value == 0 ? 0 : products.Value / squares.Value;
    }

    /// <summary>
    /// How much larger the standard uncertainty of a mean (or an integral) becomes through first-order dependence: √((1+ρ)/(1−ρ)). Negative
    /// dependence is not
    /// taken as a gain: the factor is never below 1.
    /// </summary>
    /// <param name="rho">Lag-1 coefficient, below 1. [1]</param>
    public static double InflationFactor(double rho) => Math.Sqrt((1 + Math.Clamp(rho, 0, 1 - 1e-9)) / (1 - Math.Clamp(rho, 0, 1 - 1e-9)));

    /// <summary>
    /// Standard uncertainty of the mean of a dependent series from the scatter of the means of overlapping blocks: no form of dependence is
    /// assumed, only that
    /// it has died away within a block. Not a number for fewer than two blocks.
    /// </summary>
    /// <param name="values">Readings in order of time, equally spaced.</param>
    /// <param name="blockLength">Readings in a block, at least 1 and less than the series' length. [1]</param>
    /// <exception cref="ArgumentOutOfRangeException">The block is empty.</exception>
    public static double MovingBlockStandardError(ReadOnlySpan<double> values, int blockLength)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(blockLength, 1);
        int blocks = values.Length - blockLength + 1;
        if (blocks < 2)
        {
            return double.NaN;
        }

        double grandMean = SampleStatistics.Of(values).Mean;
        CompensatedSum inBlock = default, squares = default;
        for (int i = 0; i < values.Length; i++)
        {
            inBlock += values[i] - grandMean;
            if (i >= blockLength)
            {
                inBlock += grandMean - values[i - blockLength];
            }

            if (i >= blockLength - 1)
            {
                double mean = inBlock.Value / blockLength;
                squares += mean * mean;
            }
        }

        // Variance of a block's mean falls as 1/length; the last factor allows for the freedom that the grand mean used up, which counts
        // where blocks are few.
        double share = (double)blockLength / values.Length;
        return Math.Sqrt(squares.Value / blocks * share / (1 - share));
    }
}
