using System.Numerics;
using ChargeAudit.Metrology.Statistics;
using MathNet.Numerics.IntegralTransforms;

namespace ChargeAudit.Measuring.Standby;

/// <summary>Finds the period of a load that draws in cycles, and whether the sampling carries its pulses.</summary>
public static class PulsePeriod
{
    /// <summary>Autocorrelation below this is not a period. [1]</summary>
    private const double LeastCorrelation = 0.3;

    /// <summary>The period by the first high peak of the autocorrelation; null where there is none or fewer than four cycles. [s]</summary>
    /// <param name="powerW">Readings. [W]</param>
    /// <param name="intervalS">Time between them. [s]</param>
    public static double? Of(ReadOnlySpan<double> powerW, double intervalS)
    {
        int n = powerW.Length;
        if (n < 12)
        {
            return null;
        }

        var correlation = Correlation(powerW);
        if (correlation.Length == 0)
        {
            return null;
        }

        // The peak at zero must have been left first: until then neighbours are merely similar.
        int lag = 1;
        while (lag < n / 4 && correlation[lag] > 0.5 * LeastCorrelation)
        {
            lag++;
        }

        double highest = 0;
        for (int i = lag; i < n / 4; i++)
        {
            highest = Math.Max(highest, correlation[i]);
        }

        if (highest < LeastCorrelation)
        {
            return null;
        }

        for (int i = Math.Max(2, lag); i < (n / 4) - 1; i++)
        {
            if (correlation[i] >= 0.9 * highest && correlation[i] >= correlation[i - 1] && correlation[i] >= correlation[i + 1])
            {
                // A parabola through the peak and its neighbours gives the part of a lag.
                double bend = correlation[i - 1] - (2 * correlation[i]) + correlation[i + 1];
                double part = bend < 0 ? 0.5 * (correlation[i - 1] - correlation[i + 1]) / bend : 0;
                return (i + part) * intervalS;
            }
        }

        return null;
    }

    /// <summary>Whether the readings hold short pulses, and how many readings a pulse has at the median; zero where there are
    /// none.</summary>
    /// <param name="powerW">Readings. [W]</param>
    public static double ReadingsAPulse(ReadOnlySpan<double> powerW)
    {
        var sorted = powerW.ToArray();
        double median = HighMedian.Of(sorted);
        double top = sorted[^1];
        double scatter = HighMedian.Scatter(sorted, median);
        double level = 0.5 * (median + top);
        if (top - median < Math.Max(8 * scatter, 0.2 * Math.Abs(median)))
        {
            return 0;
        }

        var lengths = new List<double>();
        int run = 0;
        foreach (double p in powerW)
        {
            if (p > level)
            {
                run++;
            }
            else if (run > 0)
            {
                lengths.Add(run);
                run = 0;
            }
        }

        return lengths.Count == 0 ? 0 : HighMedian.Of(lengths.ToArray());
    }

    private static double[] Correlation(ReadOnlySpan<double> powerW)
    {
        int n = powerW.Length;
        double mean = 0;
        foreach (double p in powerW)
        {
            mean += p / n;
        }

        // Padded with zeros to twice the length, so that the end does not wrap round to the start.
        var spectrum = new Complex[(int)BitOperations.RoundUpToPowerOf2((uint)(2 * n))];
        for (int i = 0; i < n; i++)
        {
            spectrum[i] = powerW[i] - mean;
        }

        Fourier.Forward(spectrum, FourierOptions.Matlab);
        for (int i = 0; i < spectrum.Length; i++)
        {
            spectrum[i] = spectrum[i].Magnitude * spectrum[i].Magnitude;
        }

        Fourier.Inverse(spectrum, FourierOptions.Matlab);
        double whole = spectrum[0].Real;
        if (!(whole > 1e-18 * n * Math.Max(1e-12, mean * mean)))
        {
            return [];
        }

        var correlation = new double[n / 2];
        for (int lag = 0; lag < correlation.Length; lag++)
        {
            correlation[lag] = spectrum[lag].Real / whole * n / (n - lag);
        }

        return correlation;
    }
}
