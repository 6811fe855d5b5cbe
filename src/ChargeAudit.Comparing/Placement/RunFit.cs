using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Placement;

/// <summary>
/// A least-squares fit through runs whose coefficients, and whatever is linear in them, carry both parts of their uncertainty apart: the
/// scatter of the runs about the fit with its degrees of freedom, and what the runs have in common, such as a meter's gain, which no
/// scatter shows.
/// </summary>
internal sealed class RunFit
{
    private readonly IReadOnlyList<Measured> _runs;
    private readonly HashSet<InfluenceSource> _common;
    private readonly double[] _ownVariances;
    private readonly int _columns;

    private RunFit(LeastSquaresFit fit, IReadOnlyList<Measured> runs, int columns)
    {
        (Fit, _runs, _columns) = (fit, runs, columns);
        _common = [.. runs.SelectMany(r => r.Components).GroupBy(c => c.Source).Where(g => g.Key.Shared || g.Count() > 1)
            .Select(g => g.Key)];

        // What is not a common source belongs to one run, so it adds up run by run.
        _ownVariances = [.. runs.Select(r => r.Components.Where(c => !_common.Contains(c.Source))
            .Sum(c => c.Variance))];
    }

    /// <summary>The bare fit.</summary>
    public LeastSquaresFit Fit { get; }

    /// <summary>Fits the runs' values.</summary>
    /// <param name="columns">Columns, each with one value for each run.</param>
    /// <param name="runs">The runs' values, of one unit.</param>
    /// <exception cref="ArgumentException">The columns do not determine the coefficients.</exception>
    public static RunFit Of(IReadOnlyList<double[]> columns, IReadOnlyList<Measured> runs) =>
        new(LeastSquaresFit.Columns(columns, [.. runs.Select(r => r.Value)]), runs, columns.Count);

    /// <summary>A sum of the coefficients times factors.</summary>
    /// <param name="contrast">Factors: intercept first.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="scatter">Its scatter as a source.</param>
    public Measured Sum(double[] contrast, string unit, InfluenceSource scatter)
    {
        var whole = Measured.Combine(Value(contrast), unit, _runs.Select((r, i) => (Weight(contrast, i), r)));
        if (!(Fit.DegreesOfFreedom > 0))
        {
            return Measured.Unknown(whole.Value, unit, "there are as many coefficients as runs, so their scatter cannot be told");
        }

        var common = whole.Components.Where(c => _common.Contains(c.Source)).ToList();
        common.Add(new UncertaintyComponent(scatter with { DegreesOfFreedom = Fit.DegreesOfFreedom, Observations = _runs.Count },
            Math.Sqrt(OwnVariance(contrast))));
        return Measured.From(whole.Value, unit, common, whole.UnknownBecause);
    }

    /// <summary>The bare value of such a sum.</summary>
    /// <param name="contrast">Factors: intercept first.</param>
    public double Value(double[] contrast) => contrast.Select((c, j) => c * Fit.Coefficients[j]).Sum();

    /// <summary>
    /// Variance of such a sum by what is each run's own: their scatter about the fit, which is never taken for smaller than what is known
    /// of their noise; not a number where no freedom is left.
    /// </summary>
    /// <param name="contrast">Factors: intercept first.</param>
    public double OwnVariance(double[] contrast)
    {
        double variance = 0;
        for (int j = 0; j <= _columns; j++)
        {
            for (int k = 0; k <= _columns; k++)
            {
                variance += contrast[j] * contrast[k] * Fit.Covariance(j, k);
            }
        }

        double noise = 0;
        for (int i = 0; i < _runs.Count; i++)
        {
            double weight = Weight(contrast, i);
            noise += weight * weight * _ownVariances[i];
        }

        return Math.Max(Math.Max(0, variance), noise);
    }

    private double Weight(double[] contrast, int run)
    {
        double weight = 0;
        for (int j = 0; j <= _columns; j++)
        {
            weight += contrast[j] * Fit.Weight(j, run);
        }

        return weight;
    }
}
