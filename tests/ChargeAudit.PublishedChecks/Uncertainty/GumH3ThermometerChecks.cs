using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>JCGM 100:2008, H.3: calibration line of a thermometer, b(t) = y₁ + y₂(t − 20 °C). Unrounded values worked out
/// elsewhere.</summary>
public sealed class GumH3ThermometerChecks
{
    private static readonly double[] T = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    private static readonly double[] B = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
    private static readonly LeastSquaresFit Fit = LeastSquaresFit.Line(Array.ConvertAll(T, t => t - 20), B);

    [Fact]
    public void Line_and_its_uncertainties()
    {
        Assert.Equal(-0.1712, Fit.Coefficients[0], 5e-5);
        Assert.Equal(0.0029, Fit.StandardError(0), 5e-5);
        Assert.Equal(0.00218, Fit.Slope, 5e-6);
        Assert.Equal(0.00067, Fit.StandardError(1), 5e-6);
        Assert.Equal(-0.930, Fit.Covariance(0, 1) / (Fit.StandardError(0) * Fit.StandardError(1)), 5e-4);
        Assert.Equal(0.0035, Fit.ResidualStandardDeviation, 5e-5);
        Assert.Equal(9, Fit.DegreesOfFreedom);

        Assert.Equal(-0.171203790, Fit.Coefficients[0], 5e-10);
        Assert.Equal(0.002877598, Fit.StandardError(0), 5e-10);
        Assert.Equal(0.0021826977, Fit.Slope, 5e-11);
        Assert.Equal(0.000667939, Fit.StandardError(1), 5e-10);
    }

    [Fact]
    public void Correction_at_30_degrees()
    {
        var (value, u) = Fit.At(10);
        Assert.Equal(-0.1494, value, 5e-5);
        Assert.Equal(0.0041, u, 5e-5);
        Assert.Equal(-0.149376813, value, 5e-10);
        Assert.Equal(0.004138596, u, 5e-10);
    }
}
