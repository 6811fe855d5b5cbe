using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Tests.Metrology.Statistics;

public sealed class HighMedianTests
{
    [Theory]
    [InlineData(5.0, new[] { 9.0, 1.0, 5.0 })]
    [InlineData(5.0, new[] { 9.0, 1.0, 5.0, 2.0 })]
    [InlineData(-3.0, new[] { -3.0 })]
    public void It_is_one_of_the_values_and_of_an_even_count_the_greater_of_two(double expected, double[] values) =>
        Assert.Equal(expected, HighMedian.Of(values));

    // The quartiles of a normal distribution lie 0.67449 standard deviations from its middle (tables of the normal distribution), so values at
    // −1, −0.67449, 0, 0.67449 and 1 of them have a median deviation of 0.67449.
    [Fact]
    public void The_scatter_of_values_about_the_quartiles_is_the_standard_deviation()
    {
        double[] values = [20 + (3 * 0.67449), 20, 17, 20 - (3 * 0.67449), 23];
        Assert.Equal(3, HighMedian.Scatter(values, 20), 0.0003);
        Assert.Equal(20 + (3 * 0.67449), values[0]);
    }
}
