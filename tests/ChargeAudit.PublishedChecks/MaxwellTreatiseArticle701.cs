using ChargeAudit.Coils;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// J. C. Maxwell, A Treatise on Electricity and Magnetism, art. 701: mutual inductance of coaxial circles,
/// M = μ₀√(ab)[(2/κ − κ)K(κ) − (2/κ)E(κ)], κ² = 4ab/[(a+b)²+d²]. The elliptic integrals: DLMF §19.34 gives the same by Carlson's forms.
/// Values worked out in Python from three forms (AGM, Neumann's integral, Carlson) that agree to 1e-14; the first is also recalled (MEMORY)
/// from papers that quote Grover.
/// </summary>
public sealed class MaxwellTreatiseArticle701
{
    // Twelve digits are given: half a unit of the last is at most 2e-11 of the smallest value.
    private const double Relative = 3e-11;

    [Theory]
    [InlineData(0.20, 0.25, 0.10, 248.787359042)]
    [InlineData(0.25, 0.25, 0.04, 606.067628368)]
    [InlineData(0.025, 0.025, 0.004, 60.606762837)]
    [InlineData(0.020, 0.015, 0.003, 26.728078505)]
    [InlineData(0.03, 0.03, 0.01, 46.631416365)]
    [InlineData(0.12, 0.06, 0.10, 25.135637780)]
    [InlineData(1, 1, 1, 494.078463080)]
    public void Coaxial_circles(double a, double b, double d, double expectedNanohenry)
    {
        double computed = 1e9 * CircularFilament.MutualInductance(a, b, d);
        Assert.Equal(expectedNanohenry, computed, Relative * expectedNanohenry);
    }

    /// <summary>The same source's recalled value to its own seven digits.</summary>
    [Fact]
    public void The_value_recalled_from_Grover() => Assert.Equal(248.7874, 1e9 * CircularFilament.MutualInductance(0.20, 0.25, 0.10), 5e-5);

    /// <summary>Every length times s makes M times s: the formula holds lengths only as ratios, and one factor √(ab).</summary>
    [Theory]
    [InlineData(0.1)]
    [InlineData(7)]
    [InlineData(1e-3)]
    public void Mutual_inductance_scales_with_size(double scale)
    {
        double one = CircularFilament.MutualInductance(0.25, 0.25, 0.04);
        Assert.Equal(scale * one, CircularFilament.MutualInductance(0.25 * scale, 0.25 * scale, 0.04 * scale), 1e-14 * scale);
    }

    /// <summary>Far field of a dipole: M → μ₀πa²b²/(2d³). The next term of the series is −(3/2)(a²+b²)/d² of it (by expanding the formula;
    /// MEMORY).</summary>
    [Theory]
    [InlineData(1e2)]
    [InlineData(1e3)]
    [InlineData(1e5)]
    public void Far_field(double distance)
    {
        const double A = 0.3;
        const double B = 0.7;
        double dipole = CircularFilament.Mu0 * Math.PI * A * A * B * B / (2 * distance * distance * distance);
        double expected = dipole * (1 - (1.5 * ((A * A) + (B * B)) / (distance * distance)));
        // What is left out is of the order (a/d)⁴; beyond that only rounding counts, for nothing cancels.
        double left = 10 * Math.Pow(1 / distance, 4);
        Assert.Equal(1, CircularFilament.MutualInductance(A, B, distance) / expected, left + 1e-14);
    }

    /// <summary>Which circle carries the current does not matter (reciprocity, Maxwell art. 701 is symmetric in a and b).</summary>
    [Fact]
    public void Reciprocity_coaxial() =>
        Assert.Equal(1, CircularFilament.MutualInductance(0.02, 0.015, 0.003) / CircularFilament.MutualInductance(0.015, 0.02, 0.003),
            1e-14);
}
