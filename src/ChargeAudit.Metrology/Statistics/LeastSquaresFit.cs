using MathNet.Numerics.LinearAlgebra;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// A straight-line or several-column fit by least squares, with standard errors and covariances of the coefficients. Columns are centred
/// and scaled and the
/// problem solved by orthogonal reduction; normal equations would lose half the digits. Immutable. <i>Source:</i> JCGM 100:2008, H.3 (the
/// line and its covariance).
/// </summary>
public sealed class LeastSquaresFit
{
    private readonly double[] _coefficients;
    private readonly double[,] _covariance;
    private readonly double[,] _weights;
    private readonly Matrix<double> _r;

    private LeastSquaresFit(double[] coefficients, double[,] covariance, double[,] weights, Matrix<double> r, double residualSumOfSquares,
        double totalSumOfSquares, double dof)
    {
        _coefficients = coefficients;
        _covariance = covariance;
        _weights = weights;
        _r = r;
        ResidualSumOfSquares = residualSumOfSquares;
        TotalSumOfSquares = totalSumOfSquares;
        DegreesOfFreedom = dof;
    }

    /// <summary>Intercept first, then one coefficient per column.</summary>
    public IReadOnlyList<double> Coefficients => _coefficients;

    /// <summary>Coefficient of the first column: the slope of a line.</summary>
    public double Slope => _coefficients[1];

    /// <summary>Σ(y − fit)².</summary>
    public double ResidualSumOfSquares { get; }

    /// <summary>Σ(y − ȳ)².</summary>
    public double TotalSumOfSquares { get; }

    /// <summary>Observations less coefficients. [1]</summary>
    public double DegreesOfFreedom { get; }

    /// <summary>
    /// Condition number of the centred and scaled columns: 1 where they have nothing in common, large where they nearly repeat one another
    /// and their coefficients can hardly be told apart. [1]
    /// </summary>
    public double ConditionNumber => _r.ConditionNumber();

    /// <summary>Standard deviation of the residuals; not a number where no freedom is left.</summary>
    public double ResidualStandardDeviation => DegreesOfFreedom > 0 ? Math.Sqrt(ResidualSumOfSquares / DegreesOfFreedom) : double.NaN;

    /// <summary>Share of the scatter that the fit explains. [1]</summary>
    public double RSquared => 1 - (ResidualSumOfSquares / TotalSumOfSquares);

    /// <summary>Fits y = b₀ + b₁x.</summary>
    /// <param name="x">Abscissae.</param>
    /// <param name="y">Ordinates, as many.</param>
    /// <exception cref="ArgumentException">Lengths differ, there are too few points, or x does not vary.</exception>
    public static LeastSquaresFit Line(ReadOnlySpan<double> x, ReadOnlySpan<double> y) => Columns([x.ToArray()], y.ToArray());

    /// <summary>Fits y = b₀ + b₁x₁ + b₂x₂ + ….</summary>
    /// <param name="columns">Columns, each as long as <paramref name="y"/>.</param>
    /// <param name="y">Observations.</param>
    /// <exception cref="ArgumentException">Lengths differ, there are too few points, or the columns do not determine the
    /// coefficients.</exception>
    public static LeastSquaresFit Columns(IReadOnlyList<double[]> columns, double[] y) => TryColumns(columns, y)
        ?? throw new ArgumentException(
            columns.Count == 0 || columns.Any(c => !Varies(c))
                ? "a column does not vary, so its coefficient cannot be told"
                : "the columns repeat one another, so their coefficients cannot be told apart",
            nameof(columns));

    /// <summary>The same; null where the columns do not determine the coefficients.</summary>
    /// <param name="columns">Columns, each as long as <paramref name="y"/>.</param>
    /// <param name="y">Observations.</param>
    /// <exception cref="ArgumentException">Lengths differ or there are too few points.</exception>
    public static LeastSquaresFit? TryColumns(IReadOnlyList<double[]> columns, double[] y)
    {
        int n = y.Length, p = columns.Count;
        if (columns.Any(c => c.Length != n))
        {
            throw new ArgumentException("a column differs in length from the observations", nameof(columns));
        }

        if (n < p + 1)
        {
            throw new ArgumentException($"{p + 1} coefficients need at least as many observations, not {n}", nameof(y));
        }

        var ys = SampleStatistics.Of(y);
        var stats = columns.Select(c => SampleStatistics.Of(c)).ToArray();
        if (p == 0 || stats.Any(s => !(s.StandardDeviation > 0)))
        {
            return null;
        }

        var scaled = Matrix<double>.Build.Dense(n, p, (i, j) => (columns[j][i] - stats[j].Mean) / stats[j].StandardDeviation);
        var centred = Vector<double>.Build.Dense(n, i => y[i] - ys.Mean);
        var qr = scaled.QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin);
        double widest = Enumerable.Range(0, p).Max(j => Math.Abs(qr.R[j, j]));
        if (Enumerable.Range(0, p).Any(j => Math.Abs(qr.R[j, j]) < 1e-12 * widest))
        {
            return null;
        }

        // One step of refinement on the residuals wins back what the first solution rounded away.
        var beta = qr.Solve(centred);
        beta += qr.Solve(centred - (scaled * beta));
        var residuals = centred - (scaled * beta);
        double ss = Squares(residuals), total = Squares(centred);
        double dof = n - p - 1;
        double variance = dof > 0 ? ss / dof : double.NaN;

        // back from centred and scaled columns: slopes by their scales, intercept ȳ − Σ b x̄
        var rInverse = qr.R.Inverse();
        var slopeCovariance = rInverse * rInverse.Transpose() * variance;
        var coefficients = new double[p + 1];
        var covariance = new double[p + 1, p + 1];
        for (int j = 0; j < p; j++)
        {
            coefficients[j + 1] = beta[j] / stats[j].StandardDeviation;
            for (int k = 0; k < p; k++)
            {
                covariance[j + 1, k + 1] = slopeCovariance[j, k] / (stats[j].StandardDeviation * stats[k].StandardDeviation);
            }
        }

        var intercept = default(CompensatedSum) + ys.Mean;
        for (int j = 0; j < p; j++)
        {
            intercept += -coefficients[j + 1] * stats[j].Mean;
        }

        // What one unit of an observation adds to each coefficient: the columns are centred, so that of the mean adds nothing to a slope.
        var slopeWeights = rInverse * qr.Q.Transpose();
        var weights = new double[p + 1, n];
        for (int i = 0; i < n; i++)
        {
            weights[0, i] = 1.0 / n;
            for (int j = 0; j < p; j++)
            {
                weights[j + 1, i] = slopeWeights[j, i] / stats[j].StandardDeviation;
                weights[0, i] -= weights[j + 1, i] * stats[j].Mean;
            }
        }

        coefficients[0] = intercept.Value;
        covariance[0, 0] = variance / n;
        for (int j = 0; j < p; j++)
        {
            double c = 0;
            for (int k = 0; k < p; k++)
            {
                c -= stats[k].Mean * covariance[k + 1, j + 1];
            }

            covariance[0, j + 1] = covariance[j + 1, 0] = c;
            covariance[0, 0] -= stats[j].Mean * c;
        }

        return new LeastSquaresFit(coefficients, covariance, weights, qr.R, ss, total, dof);
    }

    private static bool Varies(double[] column) => SampleStatistics.Of(column).StandardDeviation > 0;

    /// <summary>Standard uncertainty of a coefficient.</summary>
    /// <param name="index">0 the intercept, then the columns. [1]</param>
    public double StandardError(int index) => Math.Sqrt(_covariance[index, index]);

    /// <summary>What one unit of an observation adds to a coefficient: the coefficient is the sum of observations times weights.</summary>
    /// <param name="coefficient">0 the intercept, then the columns. [1]</param>
    /// <param name="observation">Position of the observation. [1]</param>
    public double Weight(int coefficient, int observation) => _weights[coefficient, observation];

    /// <summary>Covariance of two coefficients.</summary>
    /// <param name="first">Index of one: 0 the intercept, then the columns. [1]</param>
    /// <param name="second">Index of the other. [1]</param>
    public double Covariance(int first, int second) => _covariance[first, second];

    /// <summary>The fitted value and its standard uncertainty, correlations included.</summary>
    /// <param name="columns">One value per column.</param>
    /// <exception cref="ArgumentException">Not as many values as columns.</exception>
    public (double Value, double StandardUncertainty) At(params ReadOnlySpan<double> columns)
    {
        if (columns.Length != _coefficients.Length - 1)
        {
            throw new ArgumentException($"{_coefficients.Length - 1} values are needed, one a column, not {columns.Length}",
                nameof(columns));
        }

        double[] row = [1, .. columns];
        double value = 0, variance = 0;
        for (int j = 0; j < row.Length; j++)
        {
            value += _coefficients[j] * row[j];
            for (int k = 0; k < row.Length; k++)
            {
                variance += row[j] * row[k] * _covariance[j, k];
            }
        }

        return (value, Math.Sqrt(Math.Max(0, variance)));
    }

    private static double Squares(Vector<double> v)
    {
        var sum = default(CompensatedSum);
        foreach (double x in v)
        {
            sum += x * x;
        }

        return sum.Value;
    }
}
