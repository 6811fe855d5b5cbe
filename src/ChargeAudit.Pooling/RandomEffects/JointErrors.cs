using ChargeAudit.Metrology.Uncertainty;
using MathNet.Numerics.LinearAlgebra;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>
/// Several figures with the covariance of their errors, built from the sources they share. A source that all of them have moves all of them
/// together and does not show in their scatter: its mean effect is kept apart, and only what differs from that mean stays in the
/// covariance. Contrasts, and with them Q and the restricted likelihood, are the same either way.
/// </summary>
public sealed class JointErrors
{
    private JointErrors(IReadOnlyList<Measured> figures, Matrix<double> covariance,
        IReadOnlyList<(InfluenceSource Source, double[] Effects)> common)
    {
        Figures = figures;
        Covariance = covariance;
        Common = common;
    }

    /// <summary>The figures.</summary>
    public IReadOnlyList<Measured> Figures { get; }

    /// <summary>Covariance without the mean effect of what all share, in the square of the figures' unit.</summary>
    public Matrix<double> Covariance { get; }

    /// <summary>What all share: the source and its signed effect on each figure.</summary>
    public IReadOnlyList<(InfluenceSource Source, double[] Effects)> Common { get; }

    /// <summary>Builds it.</summary>
    /// <param name="figures">Figures of one unit with known uncertainty, at least one.</param>
    public static JointErrors Of(IReadOnlyList<Measured> figures)
    {
        int n = figures.Count;
        var v = Matrix<double>.Build.Dense(n, n);
        var common = new List<(InfluenceSource, double[])>();
        var all = figures.SelectMany((f, i) => f.Components.Select(c => (i, c))).GroupBy(x => x.c.Source);
        foreach (var source in all)
        {
            double[] effects = new double[n];
            foreach (var (i, c) in source)
            {
                effects[i] = c.SignedStandardUncertainty;
            }

            double middle = 0;
            if (n > 1 && effects.All(e => e != 0))
            {
                common.Add((source.Key, effects));
                middle = effects.Average();
            }

            int[] touched = [.. Enumerable.Range(0, n).Where(i => effects[i] != 0)];
            foreach (int i in touched)
            {
                foreach (int j in touched)
                {
                    v[i, j] += (effects[i] - middle) * (effects[j] - middle);
                }
            }
        }

        return new JointErrors(figures, v, common);
    }

    /// <summary>What the shared sources do to a weighted mean, each added with its sign.</summary>
    /// <param name="weights">Weights that add up to 1.</param>
    public IEnumerable<UncertaintyComponent> CommonOf(IReadOnlyList<double> weights) =>
        Common.Select(c => new UncertaintyComponent(c.Source, c.Effects.Zip(weights).Sum(p => p.First * p.Second)));
}
