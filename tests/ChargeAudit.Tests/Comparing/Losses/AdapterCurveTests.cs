using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Comparing.Losses;

public sealed class AdapterCurveTests
{
    [Fact]
    public void The_curve_comes_back_with_its_uncertainty()
    {
        var curve = Assert.Single(AdapterCurve.Fit(Points(9, 0.08, 1.06, 0.09, 60, 0.005, 0.003, 1), 0.005, 0.003).Curves);
        Assert.InRange(curve.FixedW.Value - 0.08, -3 * curve.FixedW.StandardUncertainty, 3 * curve.FixedW.StandardUncertainty);
        Assert.InRange(curve.PerWatt.Value - 1.06, -3 * curve.PerWatt.StandardUncertainty, 3 * curve.PerWatt.StandardUncertainty);
        Assert.InRange(curve.PerSquare.Value - 0.09, -3 * curve.PerSquare.StandardUncertainty, 3 * curve.PerSquare.StandardUncertainty);
        double truth = 10 / (0.08 + 10.6 + (0.09 * 100 / 81));
        Assert.Equal(truth, curve.EfficiencyAt(10).Value!.Value, 3);
    }

    [Fact]
    public void Noise_of_the_output_does_not_flatten_the_curve()
    {
        // Straight losses only: with an output noise of 1.2 W on a spread of 5.4 W a plain fit of input on output is flattened by about 5
        // %.
        double plain = 0;
        double ours = 0;
        const int Trials = 30;
        for (ulong seed = 0; seed < Trials; seed++)
        {
            var points = Points(0, 0.5, 1.2, 0, 200, 0.05, 1.2, 40 + seed);
            plain += Slope(AdapterCurve.Fit(points, 0.05, 0).Curves[0]) / Trials;
            ours += Slope(AdapterCurve.Fit(points, 0.05, 1.2).Curves[0]) / Trials;
        }

        Assert.True(plain < 1.16, $"plain {plain}");
        Assert.InRange(ours, 1.18, 1.23);
    }

    [Fact]
    public void Each_output_voltage_has_a_curve_of_its_own()
    {
        var curves =
            AdapterCurve.Fit([.. Points(5, 0.05, 1.1, 0.1, 30, 0.002, 0.002, 1), .. Points(9, 0.07, 1.05, 0.1, 30, 0.002, 0.002, 2)], 0.002,
            0.002).Curves;
        Assert.Equal([5, 9], curves.Select(c => Math.Round(c.OutV)));
        Assert.True(curves[0].PerWatt.Value > curves[1].PerWatt.Value);
    }

    [Fact]
    public void A_load_that_was_not_seen_is_not_measured()
    {
        var curve = AdapterCurve.Fit(Points(9, 0.08, 1.06, 0.09, 60, 0.005, 0.003, 1), 0.005, 0.003).Curves[0];
        Assert.StartsWith("not measured", curve.EfficiencyAt(27).WhyNot, StringComparison.Ordinal);
    }

    [Fact]
    public void Too_few_loads_give_no_curve_and_the_reason()
    {
        var (curves, whyNone) = AdapterCurve.Fit(Points(9, 0.08, 1.06, 0.09, 5, 0, 0, 1), 0.01, 0.01);
        Assert.Empty(curves);
        Assert.Contains("5 stretches of steady load were found, and 8 are needed", Assert.Single(whyNone), StringComparison.Ordinal);
    }

    [Fact]
    public void Loads_that_lie_close_together_give_no_curve_and_the_reason()
    {
        LoadPoint[] points = [.. Enumerable.Range(0, 20).Select(i => 10 + (0.1 * i)).Select(w => new LoadPoint(1.1 * w, w, 9))];
        var (curves, whyNone) = AdapterCurve.Fit(points, 0.01, 0.01);
        Assert.Empty(curves);
        Assert.Contains("at 9 V the loads lie between 10 W and 11.9 W", Assert.Single(whyNone), StringComparison.Ordinal);
    }

    // By hand: loads of 5, 10, 15 and 20 W, and (0.70 + 0.80 + 0.86 + 0.84) / 4 = 0.80. A gain of 1 % that all four share stays 1 % of the
    // mean: 0.008.
    [Fact]
    public void The_average_efficiency_is_the_mean_at_a_quarter_a_half_three_quarters_and_the_whole_of_the_rated_output()
    {
        var gain = InfluenceSource.OfMeter("plug", SourceKind.MeterGain, "power-gain");
        var at = new Dictionary<double, double> { [5] = 0.70, [10] = 0.80, [15] = 0.86, [20] = 0.84 };
        var rated = RatedEfficiency.At(20, w => Figure.Of(Measured.From(at[w], "1", [new UncertaintyComponent(gain, 0.01 * at[w])])));
        Assert.Equal([25, 50, 75, 100], rated.Select(r => r.SharePercent));
        var average = RatedEfficiency.Average(rated).Value!;
        Assert.Equal(0.80, average.Value, 1e-12);
        Assert.Equal(0.008, average.StandardUncertainty!.Value, 1e-12);
    }

    [Fact]
    public void An_average_needs_all_four()
    {
        var rated = RatedEfficiency.At(20, w => w > 15 ? Figure.None("not measured: 20 W") : Figure.Of(Measured.Exact(0.8, "1")));
        Assert.Equal("not measured: 20 W", RatedEfficiency.Average(rated).WhyNot);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.05)]
    [InlineData(3.0)]
    public void Two_different_loads_give_no_curve(double outNoiseW)
    {
        // A line goes through two points whatever its bend: three coefficients need three loads.
        LoadPoint[] points = [.. Enumerable.Range(0, 20)
            .Select(i => new LoadPoint(i % 2 == 0 ? 2.5 : 11.0, i % 2 == 0 ? 2.0 : 10.0, 9))];
        var (curves, whyNone) = AdapterCurve.Fit(points, 0.01, outNoiseW);
        Assert.Empty(curves);
        Assert.Contains("fewer than three loads", Assert.Single(whyNone), StringComparison.Ordinal);
    }

    [Fact]
    public void Windows_in_which_the_load_steps_are_left_out()
    {
        var input = Steps(t => 1.1 * Load(t));
        var output = Steps(Load);
        var points = LoadPoints.Of(input, output, null, 0, 3600);
        Assert.All(points, p => Assert.Contains(new[] { 2.0, 6, 10 }, level => Math.Abs(p.OutW - level) < 0.01));
        Assert.InRange(points.Count, 50, 58);
        Assert.All(points, p => Assert.Equal(1.1, p.InW / p.OutW, 6));
    }

    private static double Load(double t) => t < 1230 ? 2 : t < 2430 ? 6 : 10;

    private static double Slope(AdapterCurve curve) => (curve.InputAt(14).Value - curve.InputAt(6).Value) / 8;

    private static PowerEnvelope Steps(Func<double, double> powerW)
    {
        var envelope = PowerEnvelope.ForInterval(1);
        for (int i = 0; i < 3600; i++)
        {
            envelope.AddReading(i, powerW(i));
            envelope.AddInterval(new PowerInterval(i, i + 1, powerW(i), powerW(i)));
        }

        return envelope;
    }

    private static List<LoadPoint> Points(double volt, double fixedW, double perWatt, double ohm, int count, double inNoise,
        double outNoise, ulong seed)
    {
        var random = new TruthRandom(seed);
        var points = new List<LoadPoint>();
        for (int i = 0; i < count; i++)
        {
            double outW = 1 + (18.0 * i / Math.Max(1, count - 1));
            double amps = volt > 0 ? outW / volt : 0;
            points.Add(new LoadPoint(
                fixedW + (perWatt * outW) + (ohm * amps * amps) + (inNoise * random.Gauss()), outW + (outNoise * random.Gauss()), volt));
        }

        return points;
    }
}
