using ChargeAudit.Coils;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// F. E. Neumann's formula for two circuits, M = μ₀/(4π)∮∮ ds·ds′/r (Maxwell, Treatise, art. 524; MEMORY of the article): the double sum
/// written out here, without elliptic integrals, against the library's single sum, for circles side by side as for circles on one axis.
/// </summary>
public sealed class NeumannIntegral
{
    [Theory]
    [InlineData(0.021, 0.020, 0.0045, 0)]
    [InlineData(0.021, 0.020, 0.0045, 0.003)]
    [InlineData(0.021, 0.020, 0.0045, 0.012)]
    [InlineData(0.021, 0.020, 0.0045, 0.060)]
    [InlineData(0.10, 0.02, 0.03, 0.05)]
    [InlineData(0.03, 0.03, 0.01, 0.03)]
    public void Parallel_circles_with_an_offset(double a, double b, double d, double offset)
    {
        // Both sums converge geometrically; at these distances 2048 points leave only rounding, about 1e-12 in a sum of 4 million terms.
        double expected = DoubleSum(a, b, d, offset, 2048);
        Assert.Equal(1, CircularFilament.MutualInductance(a, b, d, offset) / expected, 1e-11);
    }

    [Fact]
    public void Reciprocity_with_an_offset() =>
        Assert.Equal(1, CircularFilament.MutualInductance(0.1, 0.02, 0.03, 0.05) / CircularFilament.MutualInductance(0.02, 0.1, 0.03, 0.05),
            1e-12);

    /// <summary>Beside each other in one plane, far away, two dipoles couple with −1/2 of what they do on one axis.</summary>
    [Fact]
    public void Side_by_side_the_flux_comes_back()
    {
        double beside = CircularFilament.MutualInductance(0.01, 0.01, 0, 10);
        double onAxis = CircularFilament.MutualInductance(0.01, 0.01, 10);
        // The next terms are of the order (a/d)² = 1e-6.
        Assert.Equal(-0.5, beside / onAxis, 1e-5);
    }

    private static double DoubleSum(double a, double b, double d, double offset, int points)
    {
        double sum = 0;
        for (int i = 0; i < points; i++)
        {
            (double s1, double c1) = Math.SinCos(2 * Math.PI * i / points);
            for (int j = 0; j < points; j++)
            {
                (double s2, double c2) = Math.SinCos(2 * Math.PI * j / points);
                double x = (a * c1) - (b * c2) - offset;
                double y = (a * s1) - (b * s2);
                sum += ((c1 * c2) + (s1 * s2)) / Math.Sqrt((x * x) + (y * y) + (d * d));
            }
        }

        double step = 2 * Math.PI / points;
        return 1e-7 * a * b * sum * step * step;
    }
}
