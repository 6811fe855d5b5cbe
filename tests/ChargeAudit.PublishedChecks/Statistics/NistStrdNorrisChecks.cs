using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>NIST Statistical Reference Datasets, Linear Regression, Norris: a line through 36 points (calibration of ozone
/// monitors).</summary>
public sealed class NistStrdNorrisChecks
{
    private static readonly LeastSquaresFit Fit = LeastSquaresFit.Line(NistStrdData.NorrisX, NistStrdData.NorrisY);

    // 11 digits: the problem's condition takes up to four of a double's sixteen, and the certified values show fifteen.
    private static void Agrees(double certified, double found) => Assert.Equal(certified, found, 1e-11 * Math.Abs(certified));

    [Fact]
    public void Certified_coefficients()
    {
        Agrees(-0.262323073774029, Fit.Coefficients[0]);
        Agrees(1.00211681802045, Fit.Slope);
    }

    [Fact]
    public void Certified_standard_deviations_of_the_coefficients()
    {
        Agrees(0.232818234301152, Fit.StandardError(0));
        Agrees(0.429796848199937E-03, Fit.StandardError(1));
    }

    [Fact]
    public void Certified_analysis_of_variance()
    {
        Agrees(0.884796396144373, Fit.ResidualStandardDeviation);
        Agrees(0.999993745883712, Fit.RSquared);
        Agrees(26.6173985294224, Fit.ResidualSumOfSquares);
        Agrees(4255954.13232369, Fit.TotalSumOfSquares - Fit.ResidualSumOfSquares);
        Agrees(5436385.54079785, (Fit.TotalSumOfSquares - Fit.ResidualSumOfSquares) / (Fit.ResidualSumOfSquares / Fit.DegreesOfFreedom));
        Assert.Equal(34, Fit.DegreesOfFreedom);
    }
}
