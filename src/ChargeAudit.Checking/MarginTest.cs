using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Checking;

/// <summary>
/// Whether the ratio of two figures lies within a limit, without dividing: T = (A − ρ₀B)/u(A − ρ₀B), at each limit with its own degrees of
/// freedom. The uncertainty holds the scatter of the runs and the errors of the meters alike; an error that both figures share is one error
/// and cancels as far as it acts alike. With scatter alone this is the test of Tamhane and Logan to the last digit, and the bounds are the
/// ends of Fieller's set at the same factor.
/// <i>Source:</i> A. C. Tamhane and B. R. Logan, Biometrical Journal 46 (2004); E. C. Fieller, J. Royal Statistical Society B 16 (1954)
/// 175–185.
/// </summary>
/// <param name="Ratio">Candidate divided by baseline; positive infinity where the baseline is not above zero. [1]</param>
/// <param name="T">(A − ρ₀B) divided by its standard uncertainty, at the limit. [1]</param>
/// <param name="DegreesOfFreedom">By Welch and Satterthwaite, at the limit. [1]</param>
/// <param name="PWithin">Probability of so small a T if the ratio were at the limit or above: small shows that the margin is kept.
/// [1]</param>
/// <param name="PBeyond">Probability of so great a T if the ratio were at the limit or below: small shows that the margin is exceeded.
/// [1]</param>
/// <param name="LowerBound">One-sided lower bound of the ratio; negative infinity where there is none. [1]</param>
/// <param name="UpperBound">One-sided upper bound of the ratio; positive infinity where there is none. [1]</param>
public sealed record MarginTest(
    double Ratio, double T, double DegreesOfFreedom, double PWithin, double PBeyond, double LowerBound, double UpperBound)
{
    /// <summary>Probabilities below this are given as this.</summary>
    public const double LeastP = 1e-7;

    private const int BoundSteps = 30;

    /// <summary>Tests a ratio.</summary>
    /// <param name="candidate">Figure above the line, with its uncertainty.</param>
    /// <param name="baseline">Figure below the line, of the same unit.</param>
    /// <param name="limit">The ratio ρ₀ tested against: one plus the margin. [1]</param>
    /// <param name="alpha">Level of each one-sided bound, above 0 and below 0.5. [1]</param>
    /// <exception cref="ArgumentException">The uncertainty of a figure is not known or zero, or the units differ.</exception>
    public static MarginTest Against(Measured candidate, Measured baseline, double limit, double alpha)
    {
        ArgumentNullException.ThrowIfNull(candidate);
        ArgumentNullException.ThrowIfNull(baseline);
        if (candidate.Unit != baseline.Unit)
        {
            throw new ArgumentException($"cannot compare {candidate.Unit} with {baseline.Unit}", nameof(baseline));
        }

        var atLimit = Difference(candidate, baseline, limit);
        if (atLimit.StandardUncertainty is not { } u || u == 0)
        {
            throw new ArgumentException("a test needs figures whose uncertainty is known", nameof(candidate));
        }

        double t = atLimit.Value / u;
        double tail = OneSidedP([.. atLimit.Components], Math.Abs(t));
        return new MarginTest(
            baseline.Value > 0 ? candidate.Value / baseline.Value : double.PositiveInfinity,
            t,
            atLimit.DegreesOfFreedom!.Value,
            t < 0 ? tail : 1 - tail,
            t > 0 ? tail : 1 - tail,
            Bound(candidate, baseline, alpha, Low),
            Bound(candidate, baseline, alpha, High));
    }

    /// <summary>A − ρB with all its sources of error.</summary>
    internal static Measured Difference(Measured candidate, Measured baseline, double ratio) =>
        Measured.Combine(candidate.Value - (ratio * baseline.Value), candidate.Unit, (1, candidate), (-ratio, baseline));

    // A baseline that cannot be told from zero leaves all ratios but a stretch about zero: then there is a lower bound and no upper one.
    private static double Low(RatioSet set) => set switch
    {
        RatioSet.Bounded bounded => bounded.Low,
        RatioSet.Exclusive exclusive when exclusive.UpTo <= 0 && exclusive.From > 0 => exclusive.From,
        _ => double.NegativeInfinity,
    };

    private static double High(RatioSet set) => set is RatioSet.Bounded bounded ? bounded.High : double.PositiveInfinity;

    // The factor at a bound depends on where the bound lies, through the weights of the two scatters; it settles within a few steps.
    private static double Bound(Measured a, Measured b, double alpha, Func<RatioSet, double> end)
    {
        double at = b.Value > 0 ? a.Value / b.Value : 1;
        for (int i = 0; i < BoundSteps; i++)
        {
            double k = CoverageFactor.Of([.. Difference(a, b, at).Components], 1 - (2 * alpha));
            double next = end(Fieller.Of(a, b, k));
            if (!double.IsFinite(next))
            {
                return next;
            }

            if (Math.Abs(next - at) <= 1e-12 * Math.Abs(next))
            {
                return next;
            }

            at = next;
        }

        return at;
    }

    // The probability whose factor just reaches t: where scatter alone counts it is Student's tail, else it is searched for on its
    // logarithm.
    private static double OneSidedP(UncertaintyComponent[] components, double t)
    {
        if (components.All(c => c.SignedStandardUncertainty == 0
            || (c.Source.Shape == ErrorShape.Normal && double.IsFinite(c.Source.DegreesOfFreedom))))
        {
            return StudentDistribution.UpperTail(t, CoverageFactor.EffectiveDegreesOfFreedom(components));
        }

        double low = Math.Log(LeastP), high = Math.Log(0.5);
        double Factor(double logP) => CoverageFactor.Of(components, 1 - (2 * Math.Exp(logP)));
        if (Factor(low) <= t)
        {
            return LeastP;
        }

        for (int i = 0; i < 40 && high - low > 1e-6; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Factor(middle) > t ? (middle, high) : (low, middle);
        }

        return Math.Exp(0.5 * (low + high));
    }
}
