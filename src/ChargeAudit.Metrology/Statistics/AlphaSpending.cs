using System.Text.Json.Serialization;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>How much of a test's significance level may be spent by each look, where the data are looked at more than once.</summary>
public enum SpendingRule
{
    /// <summary>Little at first, nearly all at the end: like the bounds of O'Brien and Fleming.</summary>
    [JsonStringEnumMemberName("obrien-fleming")] OBrienFleming,

    /// <summary>About the same at every look: like the bounds of Pocock.</summary>
    [JsonStringEnumMemberName("pocock")] Pocock,
}

/// <summary>
/// Spending functions: the probability of a wrong rejection up to a share of the whole information.
/// <i>Source:</i> K. K. G. Lan and D. L. DeMets, Biometrika 70 (1983) 659–663.
/// </summary>
public static class AlphaSpending
{
    /// <summary>Probability spent up to a share of the information.</summary>
    /// <param name="rule">The function.</param>
    /// <param name="alpha">One-sided level of the whole, between 0 and 1. [1]</param>
    /// <param name="fraction">Information so far divided by that of the last look; at 1 and above all is spent. [1]</param>
    public static double Spent(SpendingRule rule, double alpha, double fraction) => fraction switch
    {
        <= 0 => 0,
        >= 1 => alpha,
        _ => rule == SpendingRule.Pocock
            ? alpha * Math.Log(1 + ((Math.E - 1) * fraction))
            : 2 * UpperTail(-Normal.InvCDF(0, 1, 0.5 * alpha) / Math.Sqrt(fraction)),
    };

    private static double UpperTail(double z) => Normal.CDF(0, 1, -z);
}
