using ChargeAudit.Checking;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// Average run lengths of a two-sided cumulative sum of normal observations with k = 0.5, from zero, as tabulated by J. M. Lucas, Journal of
/// Quality Technology 8 (1976) 1–12, and in textbooks of quality control since. The values are from memory; the tolerance is half a unit of
/// their last digit. Two one-sided sums give the two-sided one by 1/L = 1/L⁺ + 1/L⁻.
/// </summary>
public sealed class PageCusumChecks
{
    [Theory]
    [InlineData(4, 0, 168, 0.5)]
    [InlineData(4, 0.25, 74.2, 0.05)]
    [InlineData(4, 0.5, 26.6, 0.05)]
    [InlineData(4, 1, 8.38, 0.005)]
    [InlineData(4, 2, 3.34, 0.005)]
    [InlineData(5, 0, 465, 0.5)]
    [InlineData(5, 0.25, 139, 0.5)]
    [InlineData(5, 0.5, 38.0, 0.05)]
    [InlineData(5, 1, 10.4, 0.05)]
    [InlineData(5, 2, 4.01, 0.005)]
    public void Average_run_length(double limit, double shift, double expected, double tolerance)
    {
        double up = CusumRunLength.Of(0.5, limit, shift), down = CusumRunLength.Of(0.5, limit, -shift);
        Assert.Equal(expected, 1 / ((1 / up) + (1 / down)), tolerance);
    }
}
