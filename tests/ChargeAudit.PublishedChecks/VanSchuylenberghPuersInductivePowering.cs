using ChargeAudit.Coils;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// K. Van Schuylenbergh and R. Puers, Inductive Powering, Springer 2009 (MEMORY of the book; its form of the link efficiency was read in
/// public code), and the best efficiency U²/(1+√(1+U²))² as Kurs et al., Science 317 (2007) 83, and Waffenschmidt and Staring, EPE 2009,
/// have it (MEMORY).
/// </summary>
public sealed class VanSchuylenberghPuersInductivePowering
{
    /// <summary>k = 0.3, Q 100 and 40: U² = 360, √361 = 19, 360/400 = 0.9 exactly.</summary>
    [Fact]
    public void Best_efficiency_of_the_exact_example()
    {
        CoilLink link = Link(0.3, 100, 40);
        Assert.Equal(360, link.FigureOfMerit * link.FigureOfMerit, 1e-10);
        // One rounding each in the roots and the quotient.
        Assert.Equal(0.9, link.MaximumEfficiency, 1e-15);
    }

    [Theory]
    [InlineData(1, 0.171573)]
    [InlineData(2, 0.381966)]
    [InlineData(3, 0.519494)]
    [InlineData(5, 0.672078)]
    [InlineData(10, 0.819002)]
    [InlineData(20, 0.904875)]
    [InlineData(50, 0.960792)]
    [InlineData(100, 0.980199)]
    public void Best_efficiency_over_the_figure_of_merit(double figureOfMerit, double expected) =>
        Assert.Equal(expected, CoilLink.BestEfficiency(figureOfMerit), 5e-7); // six digits are given

    /// <summary>Large U: the loss tends to 2/U; the next term is 2/U².</summary>
    [Theory]
    [InlineData(1e3)]
    [InlineData(1e5)]
    public void Loss_for_a_large_figure_of_merit(double figureOfMerit) =>
        Assert.Equal(2 / figureOfMerit, 1 - CoilLink.BestEfficiency(figureOfMerit), 3 / (figureOfMerit * figureOfMerit));

    /// <summary>The general formula has its maximum at R = r₂√(1+U²), and it is the best efficiency.</summary>
    [Theory]
    [InlineData(0.3, 100, 40)]
    [InlineData(0.05, 200, 150)]
    [InlineData(0.6, 30, 20)]
    public void Efficiency_over_the_load_peaks_at_the_best_load(double k, double q1, double q2)
    {
        CoilLink link = Link(k, q1, q2);
        double best = link.SecondaryOhm * Math.Sqrt(1 + (link.FigureOfMerit * link.FigureOfMerit));
        double At(double loadOhm) => CompensatedLink.SeriesSeries(link).Efficiency(link.FrequencyHz, loadOhm);
        Assert.Equal(link.MaximumEfficiency, At(best), 1e-12);
        Assert.True(At(best * 1.001) < link.MaximumEfficiency);
        Assert.True(At(best / 1.001) < link.MaximumEfficiency);

        // The general formula: k²Q₁α/[(α + k²Q₁ + 1/Q₂)(α + 1/Q₂)] with α = R/(ωL₂).
        double loadOhm = 3 * best, alpha = loadOhm / (2 * Math.PI * link.FrequencyHz * link.SecondaryH), reflected = k * k * q1;
        Assert.Equal(reflected * alpha / ((alpha + reflected + (1 / q2)) * (alpha + (1 / q2))), At(loadOhm), 1e-12);
    }

    /// <summary>The best efficiency is the same from either side (reciprocity: U is symmetric in both coils).</summary>
    [Fact]
    public void Reciprocity() => Assert.Equal(Link(0.3, 100, 40).MaximumEfficiency, Link(0.3, 100, 40).Reversed.MaximumEfficiency);

    private static CoilLink Link(double k, double q1, double q2) =>
        new() { PrimaryH = 24e-6, SecondaryH = 12e-6, Coupling = k, PrimaryQ = q1, SecondaryQ = q2, FrequencyHz = 127.7e3 };
}
