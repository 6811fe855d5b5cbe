using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Repeats;

/// <summary>
/// Compares two means by their ratio. The interval is Fieller's: all ρ for which the difference A − ρB lies within k standard uncertainties
/// of zero. Its variances and covariance
/// hold the scatter of the runs and the meters' errors alike, so what both sides share cancels; its factor k is that of the difference A −
/// RB at the ratio R found, so a dominant rectangular error has its own. The scatter's degrees of freedom are Welch's (unequal scatters);
/// with two runs they lie between those and the ones of a single relative scatter for both.
/// <i>Source:</i> E. C. Fieller, J. Royal Statistical Society B 16 (1954) 175–185; B. L. Welch, Biometrika 34 (1947) 28–35.
/// </summary>
public static class RatioOfMeans
{
    private const double Coverage = 0.95;

    // From three runs of each on, Welch's degrees of freedom stand as they are. With two runs they are themselves estimated from next to
    // nothing and come out near one; this is their weight there, on the logarithm, against those of one relative scatter.
    // Chosen on normal scatter (scatters up to 1 : 3); the coverage study uses other models.
    private const double FreedomToTell = 2;
    private const double WeightOfWelch = 0.35;

    /// <summary>Ratio of two means of runs.</summary>
    /// <param name="numerator">Mean in the numerator.</param>
    /// <param name="reference">Mean in the denominator, of the same unit.</param>
    /// <exception cref="ArgumentException">The units differ.</exception>
    public static RatioComparison Compare(MeanOfRuns numerator, MeanOfRuns reference)
    {
        var comparison = Compare(numerator.Mean, reference.Mean);
        string? note = (numerator.RepeatabilityKnown, reference.RepeatabilityKnown) switch
        {
            (false, false) =>
                "There is one run of each only: how far further ones would differ is not known, and the interval covers the "
                + "measurement alone.",
            (true, true) when Math.Min(numerator.Count, reference.Count) == 2 =>
                "Two runs tell little of their scatter: the interval supposes that both methods scatter alike to within a few times, and "
                    + "three runs give a much shorter one.",
            (true, true) => null,
            _ => "There is one run only on one side: how far a second one would differ is not known, and the interval leaves that side's "
                + "scatter out.",
        };
        return comparison with { Note = comparison.Note is null ? note : note is null ? comparison.Note : comparison.Note + " " + note };
    }

    /// <summary>Ratio of two figures, as from <see cref="Repeatability.Combine"/>; what has finite degrees of freedom counts as
    /// scatter.</summary>
    /// <param name="numerator">Figure in the numerator.</param>
    /// <param name="reference">Figure in the denominator, of the same unit.</param>
    /// <exception cref="ArgumentException">The units differ.</exception>
    public static RatioComparison Compare(Measured numerator, Measured reference)
    {
        if (numerator.Unit != reference.Unit)
        {
            throw new ArgumentException($"cannot compare {numerator.Unit} with {reference.Unit}", nameof(reference));
        }

        if (reference.Value == 0)
        {
            return new RatioComparison(Measured.Unknown(double.NaN, "1", NoBound), null, Sentence);
        }

        double ratio = numerator.Value / reference.Value;
        if (numerator.UnknownBecause is not null || reference.UnknownBecause is not null)
        {
            return new RatioComparison(Measured.Quotient(numerator, reference), null, null);
        }

        var (a, b) = WithCommonFreedom(numerator, reference);
        var difference = Measured.Combine(0, a.Unit, (1, a), (-ratio, b));

        RatioSet SetAt(double coverage) => Fieller.Of(a, b, CoverageFactor.Of([.. difference.Components], coverage));

        var quotient = Measured.Quotient(a, b);
        var set = SetAt(Coverage);
        if (set is not RatioSet.Bounded)
        {
            return new RatioComparison(Measured.From(ratio, "1", quotient.Components, NoBound), set, Sentence);
        }

        double u = quotient.StandardUncertainty!.Value;
        return new RatioComparison(quotient.WithInterval(coverage => Interval(coverage == Coverage ? set : SetAt(coverage), coverage, u)),
            set, null);
    }

    private const string NoBound = "the reference cannot be told from zero, so its ratio has no bounded interval";

    private const string Sentence = "The reference cannot be told from zero, so the ratio has no bounded interval and none is printed.";

    private static CoverageInterval Interval(RatioSet set, double coverage, double u) => set is RatioSet.Bounded bounded
        ? new CoverageInterval(bounded.Low, bounded.High, coverage, u == 0 ? 0 : 0.5 * (bounded.High - bounded.Low) / u)
        : new CoverageInterval(double.NegativeInfinity, double.PositiveInfinity, coverage, double.PositiveInfinity);

    // Both scatters get degrees of freedom such that the two together have those wanted.
    private static (Measured A, Measured B) WithCommonFreedom(Measured a, Measured b)
    {
        var (varianceA, dofA) = Scatter(a);
        var (varianceB, dofB) = Scatter(b);
        if (!double.IsFinite(dofA) || !double.IsFinite(dofB) || a.Value == 0)
        {
            return (a, b);
        }

        double welch = WelchFreedom(varianceA, dofA, varianceB, dofB);
        double wanted = FreedomTogether(varianceA, dofA, varianceB, dofB);
        return wanted == welch ? (a, b) : (Scaled(a, wanted / welch), Scaled(b, wanted / welch));
    }

    /// <summary>Degrees of freedom of two scatters together as <see cref="Compare(Measured, Measured)"/> takes them: Welch's, and with two
    /// runs a mean of those and of one relative scatter's.</summary>
    /// <param name="varianceA">Relative variance of one mean. [1]</param>
    /// <param name="dofA">Its degrees of freedom. [1]</param>
    /// <param name="varianceB">Relative variance of the other. [1]</param>
    /// <param name="dofB">Its degrees of freedom. [1]</param>
    public static double FreedomTogether(double varianceA, double dofA, double varianceB, double dofB)
    {
        double welch = WelchFreedom(varianceA, dofA, varianceB, dofB);
        if (Math.Min(dofA, dofB) >= FreedomToTell)
        {
            return welch;
        }

        double oneScatter = WelchFreedom(1 / (dofA + 1), dofA, 1 / (dofB + 1), dofB);
        return Math.Pow(welch, WeightOfWelch) * Math.Pow(oneScatter, 1 - WeightOfWelch);
    }

    /// <summary>Degrees of freedom of two variances together. <i>Source:</i> B. L. Welch, Biometrika 34 (1947) 28–35.</summary>
    /// <inheritdoc cref="FreedomTogether"/>
    public static double WelchFreedom(double varianceA, double dofA, double varianceB, double dofB) =>
        (varianceA + varianceB) * (varianceA + varianceB) / ((varianceA * varianceA / dofA) + (varianceB * varianceB / dofB));

    // Relative variance of the estimated part, and its degrees of freedom.
    private static (double Variance, double Dof) Scatter(Measured m)
    {
        var estimated = m.Components.Where(c => double.IsFinite(c.Source.DegreesOfFreedom) && c.SignedStandardUncertainty != 0).ToList();
        double variance = estimated.Sum(c => c.Variance) / (m.Value * m.Value);
        return (variance, estimated.Count == 0 ? double.PositiveInfinity : CoverageFactor.EffectiveDegreesOfFreedom(estimated));
    }

    private static Measured Scaled(Measured m, double factor) => Measured.From(m.Value, m.Unit, m.Components.Select(c =>
        double.IsFinite(c.Source.DegreesOfFreedom)
            ? c with { Source = c.Source with { DegreesOfFreedom = c.Source.DegreesOfFreedom * factor } }
            : c));
}
