using MathNet.Numerics.LinearAlgebra;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>
/// A linear model y = Xβ + ΣZₖuₖ + e with a known covariance of e and an unknown variance for each grouping k: devices, chargers, cells of
/// a table. Immutable.
/// </summary>
public sealed class EffectsModel
{
    private readonly Vector<double> _y;
    private readonly Matrix<double> _x;
    private readonly Matrix<double> _v;
    private readonly Matrix<double>[] _groups;

    /// <summary>Makes the model.</summary>
    /// <param name="y">Estimates.</param>
    /// <param name="design">Columns of X, each as long as <paramref name="y"/>.</param>
    /// <param name="covariance">Covariance of the estimates' errors.</param>
    /// <param name="groupings">For each random effect, which group each estimate belongs to.</param>
    /// <exception cref="ArgumentException">There are no more estimates than columns, or a column repeats others.</exception>
    public EffectsModel(IReadOnlyList<double> y, IReadOnlyList<double[]> design, Matrix<double> covariance, IReadOnlyList<int[]> groupings)
    {
        _y = Vector<double>.Build.DenseOfEnumerable(y);
        _x = Matrix<double>.Build.DenseOfColumnArrays(design);
        if (y.Count <= design.Count || _x.Rank() < design.Count)
        {
            throw new ArgumentException("the estimates do not determine the coefficients", nameof(design));
        }

        _v = covariance.Clone();
        double floor = 1e-13 * covariance.Diagonal().AbsoluteMaximum();
        for (int i = 0; i < y.Count; i++)
        {
            _v[i, i] += floor;
        }

        _groups = [.. groupings.Select(g => Matrix<double>.Build.Dense(y.Count, y.Count, (i, j) => g[i] == g[j] ? 1 : 0))];
        Start = Math.Max(covariance.Diagonal().Average(), double.Epsilon);
    }

    /// <summary>Degrees of freedom left: estimates less columns. [1]</summary>
    public int DegreesOfFreedom => _y.Count - _x.ColumnCount;

    /// <summary>How many groupings.</summary>
    public int Groupings => _groups.Length;

    /// <summary>A variance of the size of the errors'.</summary>
    internal double Start { get; }

    /// <summary>Coefficients by generalised least squares.</summary>
    /// <param name="variances">Variance of each grouping.</param>
    public EffectsSolution At(IReadOnlyList<double> variances)
    {
        var m = _v.Clone();
        for (int k = 0; k < _groups.Length; k++)
        {
            m += variances[k] * _groups[k];
        }

        var cholesky = m.Cholesky();
        var wx = cholesky.Solve(_x);
        var normal = _x.TransposeThisAndMultiply(wx).Cholesky();
        var covariance = normal.Solve(Matrix<double>.Build.DenseIdentity(_x.ColumnCount));
        var beta = covariance * wx.TransposeThisAndMultiply(_y);
        var residual = cholesky.Solve(_y - (_x * beta));
        double q = residual.DotProduct(_y);
        return new EffectsSolution([.. beta], covariance, q, -0.5 * (cholesky.DeterminantLn + normal.DeterminantLn + q))
        {
            Residual = residual,
            Projection = cholesky.Solve(Matrix<double>.Build.DenseIdentity(_y.Count)) - (wx * covariance * wx.Transpose()),
        };
    }

    /// <summary>The matrix of a grouping: 1 where two estimates belong together.</summary>
    internal Matrix<double> Group(int k) => _groups[k];
}

/// <summary>A solution for given variances.</summary>
/// <param name="Coefficients">β.</param>
/// <param name="Covariance">Covariance of β if the variances are right.</param>
/// <param name="Q">Weighted sum of squares of the residuals. [1]</param>
/// <param name="LogLikelihood">Logarithm of the restricted likelihood, up to a constant.</param>
public sealed record EffectsSolution(IReadOnlyList<double> Coefficients, Matrix<double> Covariance, double Q, double LogLikelihood)
{
    /// <summary>Residuals in the metric of the inverse covariance.</summary>
    public required Vector<double> Residual { get; init; }

    /// <summary>W − WX(XᵀWX)⁻¹XᵀW.</summary>
    public required Matrix<double> Projection { get; init; }
}
