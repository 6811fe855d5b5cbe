using MathNet.Numerics.LinearAlgebra;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>
/// The variances of all groupings together, by restricted maximum likelihood: scoring with Fisher's information, none below zero.
/// <i>Source:</i> H. D. Patterson, R. Thompson, Biometrika 58 (1971) 545–554.
/// </summary>
public static class VarianceComponents
{
    private const int MostSteps = 300;

    /// <summary>Finds them.</summary>
    /// <param name="model">The model, with a grouping or more.</param>
    /// <returns>A variance for each grouping, in the square of the estimates' unit.</returns>
    public static IReadOnlyList<double> Reml(EffectsModel model)
    {
        double[] s = new double[model.Groupings];
        Array.Fill(s, model.Start);
        var now = model.At(s);
        for (int step = 0; step < MostSteps; step++)
        {
            var direction = Direction(model, now, s);
            double size = s.Sum() + model.Start, length = 1;
            double[] next = s;
            var then = now;
            for (; length > 1e-9; length *= 0.5)
            {
                next = [.. s.Select((v, k) => Math.Max(0, v + (length * direction[k])))];
                then = model.At(next);
                if (then.LogLikelihood >= now.LogLikelihood)
                {
                    break;
                }
            }

            double moved = s.Zip(next).Max(p => Math.Abs(p.First - p.Second));
            if (length <= 1e-9)
            {
                break;
            }

            (s, now) = (next, then);
            if (moved <= 1e-11 * size)
            {
                break;
            }
        }

        return s;
    }

    // A variance at zero that would fall below it stays where it is.
    private static double[] Direction(EffectsModel model, EffectsSolution at, double[] s)
    {
        int n = s.Length;
        var pg = Enumerable.Range(0, n).Select(k => at.Projection * model.Group(k)).ToArray();
        double[] slope = [.. pg.Select((m, k) => at.Residual.DotProduct(model.Group(k) * at.Residual) - m.Trace())];
        int[] free = [.. Enumerable.Range(0, n).Where(k => s[k] > 0 || slope[k] > 0)];
        double[] direction = new double[n];
        if (free.Length > 0)
        {
            var information = Matrix<double>.Build.Dense(free.Length, free.Length, (a, b) => pg[free[a]]
                .PointwiseMultiply(pg[free[b]].Transpose()).RowSums().Sum());
            var step = information.PseudoInverse() * Vector<double>.Build.Dense(free.Length, a => slope[free[a]]);
            for (int a = 0; a < free.Length; a++)
            {
                direction[free[a]] = step[a];
            }
        }

        return direction;
    }
}
