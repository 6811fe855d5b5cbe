using ChargeAudit.Metrology.Calibration;

namespace ChargeAudit.Tests.Metrology.Calibration;

public class CorrectionCurveTests
{
    private static readonly double[] Loads = [0.5, 2, 5, 10, 20];

    // 4000 meters with an error of gain and offset, calibrated against a reference whose errors are each point's own, one for all, or half
    // of each. What the corrected energy of a charge (5 W for 2 h, 0.4 W for 5 h) errs by must lie within two standard uncertainties as
    // often as a normal error does (95.4 %; binomial standard deviation 0.3 %), and may do so more often where it is not stated which.
    [Theory]
    [InlineData(PointErrors.Independent, 0.0, 0.945)]
    [InlineData(PointErrors.Common, 1.0, 0.945)]
    [InlineData(PointErrors.Unsaid, 0.0, 0.945)]
    [InlineData(PointErrors.Unsaid, 0.5, 0.945)]
    [InlineData(PointErrors.Unsaid, 1.0, 0.945)]
    public void Corrected_energies_hold_the_truth(PointErrors said, double commonShare, double least)
    {
        foreach (var model in new[] { CorrectionModel.GainAndOffset, CorrectionModel.Interpolation })
        {
            var random = new Random(17);
            double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            int held = 0, studies = 4000;
            for (int i = 0; i < studies; i++)
            {
                double gain = 0.02 * Normal(), offset = 0.05 * Normal(), common = Normal();
                double Read(double true_) => (true_ * (1 + gain)) + offset;
                var points = Loads.Select(load =>
                {
                    double u = 0.003 + (0.001 * load);
                    return new CalibrationPoint(
                        load + (u * ((Math.Sqrt(commonShare) * common) + (Math.Sqrt(1 - commonShare) * Normal()))), Read(load), u);
                }).ToArray();
                var curve = CorrectionCurve.TryFit(points, model, said, out _)!;
                double corrected = (2 * (Read(5) + curve.At(Read(5)))) + (5 * (Read(0.4) + curve.At(Read(0.4))));
                double u = Math.Sqrt(curve.Errors.Sum(e => Math.Pow(
                    e.StandardUncertainty * ((2 * e.Sensitivity(Read(5))) + (5 * e.Sensitivity(Read(0.4)))), 2)));
                held += Math.Abs(corrected - 12) <= 2 * u ? 1 : 0;
            }

            Assert.InRange((double)held / studies, least, 1);
        }
    }

    // By hand: a line through corrections 1 at −1 and 3 at +1 is 2 + x; a gain through 0.2 at 2 and 0.4 at 4 is x/10; an offset of 0.1 and
    // 0.3 with equal weights is 0.2.
    [Fact]
    public void Each_model_gives_its_own_correction()
    {
        Assert.Equal(2.5, Curve(CorrectionModel.GainAndOffset, (0, -1), (4, 1)).At(0.5), 12);
        Assert.Equal(1, Curve(CorrectionModel.Gain, (2.2, 2), (4.4, 4)).At(10), 12);
        Assert.Equal(0.2, Curve(CorrectionModel.Offset, (1.1, 1), (5.3, 5)).At(77), 12);
    }

    // Three points whose corrections scatter by far more than their stated uncertainty: the scatter counts, with one degree of freedom.
    [Fact]
    public void A_scatter_beyond_what_is_stated_takes_its_place()
    {
        CalibrationPoint[] points = [new(1, 1, 1e-6), new(5.3, 5, 1e-6), new(9, 9, 1e-6)];
        var curve = CorrectionCurve.TryFit(points, CorrectionModel.GainAndOffset, PointErrors.Independent, out _)!;
        Assert.All(curve.Errors, e => Assert.Equal(1, e.DegreesOfFreedom));

        // Residuals −0.1, 0.2, −0.1: s = √0.06; the level's standard deviation is s/√3.
        Assert.Equal(Math.Sqrt(0.06 / 3), curve.Errors.Single(e => e.Part == "level").StandardUncertainty, 9);
    }

    [Theory]
    [InlineData(CorrectionModel.GainAndOffset, 1, 0.1, "needs points at two readings")]
    [InlineData(CorrectionModel.Interpolation, 3, 0.0, "have no standard uncertainty")]
    [InlineData(CorrectionModel.GainAndOffset, 2, 0.0, "have no standard uncertainty")]
    public void What_gives_no_correction_says_why(CorrectionModel model, int count, double u, string why)
    {
        var points = Enumerable.Range(1, count).Select(i => new CalibrationPoint(i, i + 0.1, u)).ToArray();
        Assert.Null(CorrectionCurve.TryFit(points, model, PointErrors.Unsaid, out string? error));
        Assert.Contains(why, error, StringComparison.Ordinal);
    }

    private static CorrectionCurve Curve(CorrectionModel model, params (double Reference, double Reading)[] points) =>
        CorrectionCurve.TryFit([.. points.Select(p => new CalibrationPoint(p.Reference, p.Reading, 0.1))], model, PointErrors.Independent,
            out _)!;
}
