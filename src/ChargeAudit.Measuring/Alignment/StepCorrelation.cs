using System.Numerics;
using MathNet.Numerics.IntegralTransforms;

namespace ChargeAudit.Measuring.Alignment;

/// <summary>Correlation of the steps of two logs at every offset, by Fourier transform.</summary>
internal static class StepCorrelation
{
    /// <summary>The best offset in grid cells, its correlation, and the best correlation away from it.</summary>
    /// <param name="a">Steps of the reference.</param>
    /// <param name="b">Steps of the other log.</param>
    /// <param name="leastOverlap">Least number of cells in which both must lie.</param>
    /// <param name="lobe">Cells around the best offset that belong to the same peak.</param>
    public static (int Lag, double Best, double NextBest) Best(double[] a, double[] b, int leastOverlap, int lobe)
    {
        int size = (int)BitOperations.RoundUpToPowerOf2((uint)(a.Length + b.Length));
        var x = new Complex[size];
        var y = new Complex[size];
        for (int i = 0; i < a.Length; i++)
        {
            x[i] = a[i];
        }

        for (int i = 0; i < b.Length; i++)
        {
            y[i] = b[i];
        }

        Fourier.Forward(x, FourierOptions.Matlab);
        Fourier.Forward(y, FourierOptions.Matlab);
        for (int i = 0; i < size; i++)
        {
            x[i] *= Complex.Conjugate(y[i]);
        }

        Fourier.Inverse(x, FourierOptions.Matlab);
        var squaresA = Squares(a);
        var squaresB = Squares(b);
        var correlation = new Dictionary<int, double>();
        int bestLag = 0;
        double best = double.NegativeInfinity;
        for (int lag = -(b.Length - leastOverlap); lag <= a.Length - leastOverlap; lag++)
        {
            int from = Math.Max(0, lag);
            int to = Math.Min(a.Length, b.Length + lag);
            double energyA = squaresA[to] - squaresA[from];
            double energyB = squaresB[to - lag] - squaresB[from - lag];

            // Where the overlap holds next to none of the steps, a high ratio means nothing.
            double least = 0.25 * Math.Min(squaresA[^1], squaresB[^1]);
            double r = energyA > 0.25 * squaresA[^1] && energyB > 0.25 * squaresB[^1] && least > 0
                ? x[(lag + size) % size].Real / Math.Sqrt(energyA * energyB)
                : 0;
            correlation[lag] = r;
            if (r > best)
            {
                best = r;
                bestLag = lag;
            }
        }

        double next = 0;
        foreach (var (lag, r) in correlation)
        {
            next = Math.Abs(lag - bestLag) > lobe ? Math.Max(next, r) : next;
        }

        return (bestLag, best, next);
    }

    private static double[] Squares(double[] values)
    {
        var sums = new double[values.Length + 1];
        for (int i = 0; i < values.Length; i++)
        {
            sums[i + 1] = sums[i] + (values[i] * values[i]);
        }

        return sums;
    }
}
