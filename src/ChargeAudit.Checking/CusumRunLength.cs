using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace ChargeAudit.Checking;

/// <summary>
/// Average run length of a one-sided cumulative sum S ← max(0, S + z − k), alarm above h, of independent standard normal z, from S = 0. The
/// integral equation L(s) = 1 + L(0)Φ(k − s) + ∫₀ʰ L(x)φ(x + k − s)dx is solved on Gauss–Legendre nodes.
/// <i>Source:</i> E. S. Page, Biometrika 41 (1954) 100–115 (the equation); A. L. Goel and S. M. Wu, Technometrics 13 (1971) 221–230 (the nodes).
/// </summary>
public static class CusumRunLength
{
    private const int Nodes = 64;

    /// <summary>Observations until an alarm, on average.</summary>
    /// <param name="allowance">k: what each observation is reduced by, in standard deviations. [1]</param>
    /// <param name="limit">h: the sum that raises an alarm, in standard deviations, above zero. [1]</param>
    /// <param name="shift">True mean of the observations, in standard deviations. [1]</param>
    /// <exception cref="ArgumentOutOfRangeException">The limit is not above zero.</exception>
    public static double Of(double allowance, double limit, double shift = 0)
    {
        if (!(limit > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(limit), limit, "the limit lies above zero");
        }

        var rule = new MathNet.Numerics.Integration.GaussLegendreRule(0, limit, Nodes);
        double k = allowance - shift;

        // The unknowns: L at zero, where half the mass gathers, then L at the nodes.
        var system = Matrix<double>.Build.Dense(Nodes + 1, Nodes + 1);
        for (int i = 0; i <= Nodes; i++)
        {
            double s = i == 0 ? 0 : rule.Abscissas[i - 1];
            system[i, 0] = -Normal.CDF(0, 1, k - s);
            for (int j = 1; j <= Nodes; j++)
            {
                system[i, j] = -rule.Weights[j - 1] * Normal.PDF(0, 1, rule.Abscissas[j - 1] + k - s);
            }

            system[i, i] += 1;
        }

        return system.Solve(Vector<double>.Build.Dense(Nodes + 1, 1))[0];
    }
}
