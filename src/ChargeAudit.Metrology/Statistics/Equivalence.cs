namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// Two one-sided tests: whether a difference is shown to lie inside two bounds. Failing to find a difference shows nothing of the kind. The
/// tests pass at level α
/// exactly where the (1 − 2α) interval lies inside the bounds. <i>Source:</i> D. J. Schuirmann, J. Pharmacokinetics and Biopharmaceutics 15
/// (1987) 657–680.
/// </summary>
/// <param name="TLow">t against the lower bound. [1]</param>
/// <param name="PLow">Probability of so great a t if the difference were at the lower bound or below. [1]</param>
/// <param name="THigh">t against the upper bound. [1]</param>
/// <param name="PHigh">Probability of so small a t if the difference were at the upper bound or above. [1]</param>
public sealed record Equivalence(double TLow, double PLow, double THigh, double PHigh)
{
    /// <summary>The greater of the two probabilities: equivalence is shown where it is below α. [1]</summary>
    public double P => Math.Max(PLow, PHigh);

    /// <summary>Runs both tests.</summary>
    /// <param name="difference">The difference found.</param>
    /// <param name="low">Lower bound, in the values' unit.</param>
    /// <param name="high">Upper bound, above the lower, in the values' unit.</param>
    /// <exception cref="ArgumentException">The bounds are not in order.</exception>
    public static Equivalence Test(DifferenceOfMeans difference, double low, double high)
    {
        if (!(low < high))
        {
            throw new ArgumentException($"the lower bound {low} must lie below the upper bound {high}", nameof(low));
        }

        double tLow = difference.TAgainst(low), tHigh = difference.TAgainst(high);
        return new Equivalence(
            tLow,
            StudentDistribution.UpperTail(tLow, difference.DegreesOfFreedom),
            tHigh,
            StudentDistribution.LowerTail(tHigh, difference.DegreesOfFreedom));
    }
}
