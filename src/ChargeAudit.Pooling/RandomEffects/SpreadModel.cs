using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.RootFinding;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>
/// Estimates of one quantity for several devices, y = μ + u + e: the true values scatter about μ with the variance τ², the errors of the
/// estimates have a covariance that is known. The covariance is brought to its principal axes once, so each τ² costs a few sums. Immutable.
/// <i>Source:</i> generalised least squares; W. Viechtbauer, J. Statistical Software 36:3 (2010), for uncorrelated errors.
/// </summary>
public sealed class SpreadModel
{
    private readonly double[] _axes;
    private readonly double[] _y;
    private readonly double[] _one;
    private readonly double[] _variances;
    private readonly IReadOnlyList<double>? _freedoms;
    private readonly Matrix<double> _vectors;

    /// <summary>Makes the model.</summary>
    /// <param name="y">Estimates, one a device, at least two.</param>
    /// <param name="covariance">Covariance of their errors, as many rows and columns, in the square of their unit.</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of each error's variance; null where all are known. [1]</param>
    /// <exception cref="ArgumentException">The sizes do not fit.</exception>
    public SpreadModel(IReadOnlyList<double> y, Matrix<double> covariance, IReadOnlyList<double>? degreesOfFreedom = null)
    {
        if (y.Count < 2 || covariance.RowCount != y.Count || covariance.ColumnCount != y.Count)
        {
            throw new ArgumentException("a spread needs at least two estimates, and a covariance of that size", nameof(covariance));
        }

        var evd = covariance.Evd(Symmetricity.Symmetric);
        _vectors = evd.EigenVectors;
        double floor = 1e-13 * Math.Max(covariance.Diagonal().AbsoluteMaximum(), double.Epsilon);
        _axes = [.. evd.EigenValues.Select(e => Math.Max(e.Real, floor))];
        _y = [.. _vectors.TransposeThisAndMultiply(Vector<double>.Build.DenseOfEnumerable(y))];
        _one = [.. _vectors.TransposeThisAndMultiply(Vector<double>.Build.Dense(y.Count, 1))];
        _variances = [.. covariance.Diagonal()];
        _freedoms = degreesOfFreedom;
        Count = y.Count;
    }

    /// <summary>How many estimates.</summary>
    public int Count { get; }

    /// <summary>Degrees of freedom of <see cref="Q"/>. [1]</summary>
    public int DegreesOfFreedom => Count - 1;

    /// <summary>The weighted mean.</summary>
    /// <param name="spreadVariance">τ², the variance between devices.</param>
    public double Mean(double spreadVariance)
    {
        double above = 0, below = 0;
        for (int i = 0; i < Count; i++)
        {
            double w = 1 / (_axes[i] + spreadVariance);
            above += w * _one[i] * _y[i];
            below += w * _one[i] * _one[i];
        }

        return above / below;
    }

    /// <summary>Variance of the weighted mean if τ² is right.</summary>
    /// <param name="spreadVariance">τ².</param>
    public double MeanVariance(double spreadVariance)
    {
        double below = 0;
        for (int i = 0; i < Count; i++)
        {
            below += _one[i] * _one[i] / (_axes[i] + spreadVariance);
        }

        return 1 / below;
    }

    /// <summary>Weighted sum of squares about the mean; with the true τ² it is distributed as χ². [1]</summary>
    /// <param name="spreadVariance">τ².</param>
    public double Q(double spreadVariance)
    {
        double mean = Mean(spreadVariance), sum = 0;
        for (int i = 0; i < Count; i++)
        {
            double r = _y[i] - (mean * _one[i]);
            sum += r * r / (_axes[i] + spreadVariance);
        }

        return sum;
    }

    /// <summary>Shares of the estimates in the mean; they add up to 1. [1]</summary>
    /// <param name="spreadVariance">τ².</param>
    public IReadOnlyList<double> Weights(double spreadVariance)
    {
        var scaled = Vector<double>.Build.Dense(Count, i => _one[i] / (_axes[i] + spreadVariance));
        return [.. _vectors.Multiply(scaled).Multiply(MeanVariance(spreadVariance))];
    }

    /// <summary>τ² at which Q takes a value; 0 where Q lies below it already without a spread.</summary>
    /// <param name="q">The value, above zero. [1]</param>
    public double SpreadWhereQIs(double q) => Root(t => Q(t) - q, 1e-14);

    /// <summary>
    /// τ² at which a Q as small as the one found, or smaller, has the given probability; 0 where that is smaller even without a spread.
    /// Exact, as χ², where the covariance is known. Where variances were estimated, a residual divided by its standard deviation follows
    /// Student's t instead of the normal distribution, and χ² gets as many degrees of freedom as the variance of Q then has. <i>Source:</i>
    /// the matching of two moments of F. E. Satterthwaite, Biometrics 2 (1946) 110–114.
    /// </summary>
    /// <param name="probability">The probability, between 0 and 1. [1]</param>
    /// <param name="accuracy">Relative accuracy. [1]</param>
    /// <param name="cautious">Whether Q is taken to be as large on average as errors that came out too small make it.</param>
    public double SpreadWhereProbabilityIs(double probability, double accuracy = 1e-12, bool cautious = false) =>
        Root(t => Probability(t, cautious) - probability, accuracy);

    /// <summary>Probability of a Q as small as the one found, or smaller, if τ² is right. [1]</summary>
    /// <param name="spreadVariance">τ².</param>
    /// <param name="cautious">Whether Q is taken to be as large on average as errors that came out too small make it.</param>
    internal double Probability(double spreadVariance, bool cautious = false)
    {
        double dof = Count - 1, mean = dof;
        if (_freedoms is not null)
        {
            // Second and fourth moment of t, bounded where it has none: its square is 1 + 2/(d − 2) on average, with the variance
            // 2 + 6/(d − 4).
            var weights = Weights(spreadVariance);
            double variance = 0;
            for (int i = 0; i < Count; i++)
            {
                double share = _variances[i] > 0 ? _variances[i] / (_variances[i] + spreadVariance) : 0;
                variance += (1 - weights[i]) * (2 + (6 * share * share / Math.Max(1, _freedoms[i] - 4)));
                mean += cautious ? (1 - weights[i]) * 2 * share * share / Math.Max(1, _freedoms[i] - 2) : 0;
            }

            dof = 2 * dof * dof / variance;
        }

        return ChiSquared.CDF(dof, Q(spreadVariance) * dof / mean);
    }

    // Where a function that falls with τ² crosses zero.
    private double Root(Func<double, double> falling, double accuracy)
    {
        if (falling(0) <= 0)
        {
            return 0;
        }

        double low = 0, high = Math.Max(_axes.Average(), double.Epsilon);
        while (falling(high) > 0)
        {
            (low, high) = (high, 4 * high);
        }

        return Brent.FindRoot(falling, low, high, accuracy * high, 500);
    }

    /// <summary>Twice the logarithm of the restricted likelihood, up to a constant.</summary>
    /// <param name="spreadVariance">τ².</param>
    internal double RestrictedLikelihood(double spreadVariance)
    {
        double sum = Math.Log(MeanVariance(spreadVariance)) - Q(spreadVariance);
        foreach (double axis in _axes)
        {
            sum -= Math.Log(axis + spreadVariance);
        }

        return sum;
    }

    /// <summary>Slope of <see cref="RestrictedLikelihood"/>.</summary>
    /// <param name="spreadVariance">τ².</param>
    internal double Score(double spreadVariance)
    {
        double mean = Mean(spreadVariance), squares = 0, trace = 0, second = 0;
        for (int i = 0; i < Count; i++)
        {
            double w = 1 / (_axes[i] + spreadVariance), r = w * (_y[i] - (mean * _one[i]));
            squares += r * r;
            trace += w;
            second += w * w * _one[i] * _one[i];
        }

        return squares - trace + (second * MeanVariance(spreadVariance));
    }

    /// <summary>A size of τ² that lies about where the answer does: the scatter of the estimates. Above zero.</summary>
    internal double Scale => Math.Max(_axes.Average() + (Q(0) / DegreesOfFreedom * _axes.Min()), double.Epsilon);
}
