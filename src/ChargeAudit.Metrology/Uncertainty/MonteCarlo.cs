using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>Result of a Monte Carlo propagation.</summary>
/// <param name="Mean">Mean of the model's values: the estimate.</param>
/// <param name="StandardUncertainty">Their standard deviation.</param>
/// <param name="Symmetric">Interval with equal probability outside on either side.</param>
/// <param name="Shortest">Shortest interval of the coverage.</param>
/// <param name="Trials">How many trials were made. [1]</param>
/// <param name="Stable">Whether the digits asked for had become stable.</param>
public sealed record MonteCarloResult(double Mean, double StandardUncertainty, CoverageInterval Symmetric, CoverageInterval Shortest, int Trials, bool Stable);

/// <summary>
/// Propagation of whole distributions: each source is drawn once a trial, whichever inputs it enters, and the model worked out for each
/// draw. Trials come in blocks until
/// estimate, uncertainty and both ends of the interval are stable. <i>Source:</i> JCGM 101:2008, 6.4 (distributions), 7.7 (intervals), 7.9
/// (adaptive number of trials).
/// </summary>
public static class MonteCarlo
{
    private const int Block = 10_000;

    /// <summary>Runs the propagation.</summary>
    /// <param name="model">Value of the model for one value an input, in their order.</param>
    /// <param name="inputs">Inputs; they may share sources.</param>
    /// <param name="options">How to run; null for the defaults.</param>
    /// <exception cref="ArgumentException">The uncertainty of an input is not known.</exception>
    public static MonteCarloResult Run(Func<ReadOnlySpan<double>, double> model, IReadOnlyList<Measured> inputs, MonteCarloOptions? options = null)
    {
        options ??= new MonteCarloOptions();
        if (inputs.FirstOrDefault(i => i.UnknownBecause is not null) is { } unknown)
        {
            throw new ArgumentException($"an input's uncertainty is not known: {unknown.UnknownBecause}", nameof(inputs));
        }

        var sources = inputs.SelectMany(i => i.Components).Select(c => c.Source).Distinct().ToArray();
        var place = sources.Select((s, i) => (s, i)).ToDictionary(p => p.s, p => p.i);
        var parts = inputs.Select(i => i.Components.Select(c => (Place: place[c.Source], c.SignedStandardUncertainty)).ToArray()).ToArray();

        var random = new Xoshiro256StarStar(options.Seed, threadSafe: false);
        var values = new List<double>(Block * 10);
        var blocks = new List<double[]>();
        var errors = new double[sources.Length];
        var x = new double[inputs.Count];
        bool stable = false;

        // 7.9.4: M = max(100/(1 − p), 10⁴) trials a block.
        int block = Math.Max(Block, (int)Math.Ceiling(100 / (1 - options.Coverage)));
        while (!stable && values.Count + block <= Math.Max(options.MostTrials, 2 * block))
        {
            var fresh = new double[block];
            for (int t = 0; t < block; t++)
            {
                for (int s = 0; s < errors.Length; s++)
                {
                    errors[s] = Draw(sources[s], random);
                }

                for (int i = 0; i < x.Length; i++)
                {
                    double sum = inputs[i].Value;
                    foreach (var (at, u) in parts[i])
                    {
                        sum += u * errors[at];
                    }

                    x[i] = sum;
                }

                fresh[t] = model(x);
            }

            values.AddRange(fresh);
            blocks.Add(Figures(fresh, options.Coverage));
            stable = values.Count >= options.FewestTrials && blocks.Count > 1 && IsStable(blocks, options.SignificantDigits);
        }

        double[] all = [.. values];
        double mean = Statistics.SampleStatistics.Of(all).Mean, u1 = Statistics.SampleStatistics.Of(all).StandardDeviation;
        Array.Sort(all);
        return new MonteCarloResult(mean, u1, SymmetricOf(all, options.Coverage, u1), ShortestOf(all, options.Coverage, u1), all.Length, stable);
    }

    /// <summary>Half a unit of the last of so many significant digits of a standard uncertainty. <i>Source:</i> JCGM 101:2008,
    /// 7.9.2.</summary>
    /// <param name="standardUncertainty">The standard uncertainty, greater than zero.</param>
    /// <param name="significantDigits">How many digits count. [1]</param>
    public static double NumericalTolerance(double standardUncertainty, int significantDigits) =>
        0.5 * Math.Pow(10, Math.Floor(Math.Log10(standardUncertainty)) - (significantDigits - 1));

    // Errors in units of their standard uncertainty.
    private static double Draw(InfluenceSource source, Xoshiro256StarStar random)
    {
        double dof = source.DegreesOfFreedom;
        switch (source.Shape)
        {
            case ErrorShape.Rectangular:
                // Limits that are themselves only known to a share widen to a curvilinear trapezoid (6.4.3).
                double spread = double.IsFinite(dof) ? Math.Min(1, Math.Sqrt(1.5 / dof)) : 0;
                double limit = spread == 0 ? 1 : 1 + (spread * ((2 * random.NextDouble()) - 1));
                return Math.Sqrt(3) * limit * ((2 * random.NextDouble()) - 1);
            case ErrorShape.Triangular:
                return Math.Sqrt(6) * (random.NextDouble() - random.NextDouble());
            case ErrorShape.Arcsine:
                return Math.Sqrt(2) * Math.Sin(2 * Math.PI * random.NextDouble());
            default:
                return double.IsFinite(dof) ? StudentT.Sample(random, 0, 1, dof) : Normal.Sample(random, 0, 1);
        }
    }

    private static double[] Figures(double[] block, double coverage)
    {
        double[] sorted = [.. block];
        Array.Sort(sorted);
        var statistics = Statistics.SampleStatistics.Of(block);
        var interval = SymmetricOf(sorted, coverage, statistics.StandardDeviation);
        return [statistics.Mean, statistics.StandardDeviation, interval.Low, interval.High];
    }

    private static bool IsStable(List<double[]> blocks, int digits)
    {
        double u = blocks.Average(b => b[1]);
        if (!(u > 0))
        {
            return true;
        }

        double tolerance = NumericalTolerance(u, digits);
        for (int figure = 0; figure < 4; figure++)
        {
            var sample = Statistics.SampleStatistics.Of(blocks.Select(b => b[figure]).ToArray());
            if (!(2 * sample.StandardErrorOfMean <= tolerance))
            {
                return false;
            }
        }

        return true;
    }

    private static CoverageInterval SymmetricOf(double[] sorted, double coverage, double u)
    {
        int inside = Inside(sorted, coverage), first = (sorted.Length - inside) / 2;
        return Interval(sorted, first, inside, coverage, u);
    }

    private static CoverageInterval ShortestOf(double[] sorted, double coverage, double u)
    {
        int inside = Inside(sorted, coverage), best = 0;
        for (int first = 1; first + inside < sorted.Length; first++)
        {
            if (sorted[first + inside] - sorted[first] < sorted[best + inside] - sorted[best])
            {
                best = first;
            }
        }

        return Interval(sorted, best, inside, coverage, u);
    }

    private static int Inside(double[] sorted, double coverage) => Math.Min(sorted.Length - 1, (int)Math.Round(coverage * sorted.Length));

    private static CoverageInterval Interval(double[] sorted, int first, int inside, double coverage, double u)
    {
        double low = sorted[first], high = sorted[first + inside];
        return new CoverageInterval(low, high, coverage, u > 0 ? 0.5 * (high - low) / u : 0);
    }
}
