using ChargeAudit.Metrology.Calibration;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>
/// Corrections from a calibration. The line and its use at 30 °C are those of JCGM 100:2008, H.3 (the data and the results as the
/// published code of another implementation of that example holds them); the interpolation is worked out by hand, as no published example
/// was found.
/// </summary>
public class CalibrationCorrectionChecks
{
    private static readonly double[] Readings =
        [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];

    private static readonly double[] Corrections =
        [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];

    // y1 = −0.1712 at 20 °C with s 0.0029; slope 0.002 18 with s 0.000 67; b(30 °C) = −0.1494 with u 0.0041 and 9 degrees of freedom.
    [Fact]
    public void The_calibration_line_of_the_guide_corrects_a_reading_of_30()
    {
        var curve = Thermometer();
        Assert.Equal(-0.1712, curve.At(20), 4);
        Assert.Equal(0.0029, curve.StandardUncertaintyAt(20), 4);
        Assert.Equal(0.00218, (curve.At(30) - curve.At(20)) / 10, 5);
        Assert.Equal(-0.1494, curve.At(30), 4);
        Assert.Equal(0.0041, curve.StandardUncertaintyAt(30), 4);
        Assert.Equal(0.004138596, curve.StandardUncertaintyAt(30), 8);
        Assert.All(curve.Errors, e => Assert.Equal(9, e.DegreesOfFreedom));
        Assert.Equal(0.00067, curve.Errors.Single(e => e.Part == "slope").StandardUncertainty, 5);
    }

    // Level and slope are uncorrelated about the mean reading; about 20 °C they are correlated, with r = −0.930.
    [Fact]
    public void Level_and_slope_carry_the_correlation_of_the_guide()
    {
        var curve = Thermometer();
        double covariance =
            curve.Errors.Sum(e => Math.Pow(e.StandardUncertainty, 2) * e.Sensitivity(20) * (e.Sensitivity(21) - e.Sensitivity(20)));
        double slope = curve.Errors.Single(e => e.Part == "slope").StandardUncertainty;
        Assert.Equal(-0.930, covariance / (curve.StandardUncertaintyAt(20) * slope), 3);
    }

    // By hand: corrections −0.02, +0.05, −0.05 at readings 1.02, 4.95, 10.05. Half-way to the second 0.015, with √(0.01² + 0.02²)/2; at a
    // third of the way from the second to the third 0.05 − 0.1/3. The middle one lies 0.05 + 0.02 + 0.03 · 3.93/9.03 above the line of its
    // neighbours; a quarter of that, rectangular, is allowed for a bend in between.
    [Fact]
    public void Between_points_the_correction_is_interpolated()
    {
        CalibrationPoint[] points = [new(1, 1.02, 0.01), new(5, 4.95, 0.02), new(10, 10.05, 0.03)];
        var curve = CorrectionCurve.TryFit(points, CorrectionModel.Interpolation, PointErrors.Independent, out _)!;
        Assert.Equal(0.015, curve.At(2.985), 9);
        Assert.Equal(0.05 - (0.1 / 3), curve.At(4.95 + 1.7), 9);
        Assert.Equal(-0.02 - (1.02 * 0.07 / 3.93), curve.At(0), 9);
        Assert.Equal(-0.05 - (9.95 * 0.1 / 5.1), curve.At(20), 9);
        double bend = (0.07 + (0.03 * 3.93 / 9.03)) / 4 / Math.Sqrt(3);
        Assert.Equal(Math.Sqrt((0.25 * ((0.01 * 0.01) + (0.02 * 0.02))) + (bend * bend)), curve.StandardUncertaintyAt(2.985), 9);
        var together = CorrectionCurve.TryFit(points, CorrectionModel.Interpolation, PointErrors.Common, out _)!;
        Assert.Equal(Math.Sqrt((0.015 * 0.015) + (bend * bend)), together.StandardUncertaintyAt(2.985), 9);
    }

    private static CorrectionCurve Thermometer() => CorrectionCurve.TryFit(
        [.. Readings.Zip(Corrections, (t, b) => new CalibrationPoint(t + b, t, 0))],
        CorrectionModel.GainAndOffset, PointErrors.Unsaid, out _)!;
}

/// <summary>Errors of a correction, put together.</summary>
file static class CorrectionUncertainty
{
    /// <summary>Standard uncertainty of the correction at a reading.</summary>
    public static double StandardUncertaintyAt(this CorrectionCurve curve, double reading) =>
        Math.Sqrt(curve.Errors.Sum(e => Math.Pow(e.StandardUncertainty * e.Sensitivity(reading), 2)));
}
