using MathNet.Numerics.RootFinding;

namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>Estimates of the variance between devices, and the interval for it.</summary>
public static class SpreadEstimate
{
    private const int Steps = 90;

    /// <summary>By restricted maximum likelihood: the greatest maximum at or above zero.</summary>
    /// <param name="model">The estimates with their covariance.</param>
    /// <returns>τ², in the square of the estimates' unit.</returns>
    public static double Reml(SpreadModel model)
    {
        // There may be two maxima, one of them at zero: a coarse look over nine decades finds the greatest.
        double scale = model.Scale;
        double At(int i) => i < 0 ? 0 : scale * Math.Pow(10, -6 + (9.0 * i / Steps));
        int best = -1;
        for (int i = 0; i <= Steps; i++)
        {
            best = model.RestrictedLikelihood(At(i)) > model.RestrictedLikelihood(At(best)) ? i : best;
        }

        double low = At(best - 1), high = At(best + 1);
        return model.Score(low) <= 0 || model.Score(high) >= 0 ? At(best) : Brent.FindRoot(model.Score, low, high, 1e-13 * high, 500);
    }

    /// <summary>
    /// By Paule and Mandel: τ² at which Q equals its degrees of freedom. <i>Source:</i> R. C. Paule, J. Mandel, J. Research NBS 87 (1982)
    /// 377–385.
    /// </summary>
    /// <param name="model">The estimates with their covariance.</param>
    /// <returns>τ², in the square of the estimates' unit.</returns>
    public static double PauleMandel(SpreadModel model) => model.SpreadWhereQIs(model.DegreesOfFreedom);
}
