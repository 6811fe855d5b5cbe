using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Metrology.Repeats;

public sealed class RepeatabilityTests
{
    private static readonly InfluenceSource Gain = new("meter:bench/power-gain", Shared: true, Shape: ErrorShape.Rectangular);

    private static Measured Run(double wattHours, string log, double noise = 0.01, double gainShare = 0.005,
        InfluenceSource? gain = null) =>
        Measured.From(wattHours, "Wh", [new(gain ?? Gain, gainShare * wattHours), new(new InfluenceSource($"log:{log}/noise"), noise)]);

    private static double Part(Measured m, string id) => m.Components.Single(c => c.Source.Id == id).SignedStandardUncertainty;

    // Two runs of each: 20 with a scatter of 0.2 and 10 with 0.05. Relative variances 1e-4 and 2.5e-5 with one degree of freedom each:
    // Welch 25/17 = 1.470588, one common scatter 2, weighed 0.35 : 0.65 on the logarithm 1.795938, where t = 4.806843 (integral of
    // Student's density, elsewhere). Fieller's set with it: 1.89363 to 2.10868.
    [Fact]
    public void With_two_runs_of_each_the_degrees_of_freedom_lie_a_third_of_the_way_from_a_common_scatter_to_Welchs()
    {
        static Measured Mean(double value, double scatter, string id) =>
            Measured.From(value, "Wh", [new UncertaintyComponent(new InfluenceSource(id, 1), scatter)]);
        var interval = RatioOfMeans.Compare(Mean(20, 0.2, "a"), Mean(10, 0.05, "b")).Ratio.Interval()!.Value;
        Assert.Equal(1.89363, interval.Low, 2e-5);
        Assert.Equal(2.10868, interval.High, 2e-5);
    }

    [Fact]
    public void The_gain_stays_and_the_scatter_takes_the_place_of_each_runs_own_noise()
    {
        var mean = Repeatability.Combine([Run(13.1, "1"), Run(13.3, "2"), Run(13.2, "3")], InfluenceSource.ScatterOf("cable", "usb"));

        Assert.Equal(13.2, mean.Mean.Value, 1e-12);
        Assert.Equal(0.1, mean.StandardDeviation!.Value, 1e-12);
        Assert.Equal(0.1 / 13.2, mean.RelativeStandardDeviation!.Value, 1e-12);
        Assert.Equal(0.005 * 13.2, Part(mean.Mean, Gain.Id), 1e-12);
        Assert.Equal(0.1 / Math.Sqrt(3), Part(mean.Mean, "method:cable/usb-repeatability"), 1e-12);
        Assert.Equal(2, mean.Mean.Components.Count);
        Assert.Equal(2,
            mean.Mean.Components.Single(c => c.Source.Id.StartsWith("method", StringComparison.Ordinal)).Source.DegreesOfFreedom);
        Assert.Null(mean.Note);
    }

    [Fact]
    public void Runs_that_agree_by_luck_do_not_beat_their_known_noise()
    {
        var mean =
            Repeatability.Combine([Run(13.2, "1", noise: 0.05), Run(13.2, "2", noise: 0.05)], InfluenceSource.ScatterOf("cable", "usb"));
        Assert.Equal(0.05 / Math.Sqrt(2), Part(mean.Mean, "method:cable/usb-repeatability"), 1e-12);
    }

    [Fact]
    public void One_run_keeps_its_own_uncertainty_and_says_what_is_missing()
    {
        var only = Run(13.2, "1");
        var mean = Repeatability.Combine([only], InfluenceSource.ScatterOf("cable", "usb"));
        Assert.False(mean.RepeatabilityKnown);
        Assert.Null(mean.StandardDeviation);
        Assert.Equal(only.StandardUncertainty, mean.Mean.StandardUncertainty);
        Assert.Contains("not known", mean.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void What_one_run_does_not_know_the_mean_does_not_know()
    {
        var mean = Repeatability.Combine([Run(13.1, "1"), Measured.Unknown(13.3, "Wh", "meter plug states no accuracy of power")],
            InfluenceSource.ScatterOf("cable", "usb"));
        Assert.Equal("meter plug states no accuracy of power", mean.Mean.UnknownBecause);
        Assert.Null(mean.Mean.Interval());
        Assert.Contains(mean.Mean.Components, c => c.Source.Id == "method:cable/usb-repeatability");
    }

    [Fact]
    public void Nothing_and_mixed_units_are_refused()
    {
        Assert.Throws<ArgumentException>(() => Repeatability.Combine([], new("x")));
        Assert.Throws<ArgumentException>(() => Repeatability.Combine([Measured.Exact(1, "Wh"), Measured.Exact(1, "J")], new("x")));
    }

    [Fact]
    public void The_order_of_the_runs_does_not_matter()
    {
        Measured[] runs = [Run(13.1, "1"), Run(13.37, "2"), Run(13.2, "3")];
        var there = Repeatability.Combine(runs, new("x")).Mean;
        var back = Repeatability.Combine([.. runs.Reverse()], new("x")).Mean;
        Assert.Equal(there.Value, back.Value, 1e-14);
        Assert.Equal(there.StandardUncertainty!.Value, back.StandardUncertainty!.Value, 1e-14);
    }

    [Fact]
    public void With_scatter_alone_the_ratio_has_fiellers_interval()
    {
        Measured[] pad = [.. new[] { 19.65, 19.92, 19.80, 20.05, 19.71 }.Select(v => Measured.Exact(v, "Wh"))];
        Measured[] cable = [.. new[] { 13.18, 13.25, 13.21, 13.30, 13.16 }.Select(v => Measured.Exact(v, "Wh"))];
        MeanOfRuns a = Repeatability.Combine(pad, InfluenceSource.ScatterOf("pad", "usb")),
            b = Repeatability.Combine(cable, InfluenceSource.ScatterOf("cable", "usb"));
        var comparison = RatioOfMeans.Compare(a, b);

        // Welch's degrees of freedom, by hand from the relative variances of the means: 6.0272. The interval is that of Fieller at such a
        // t.
        var set = Assert.IsType<RatioSet.Bounded>(comparison.Set);
        double dof = comparison.Ratio.DegreesOfFreedom!.Value;
        Assert.Equal(6.0272, dof, 5e-5);
        var expected = Assert.IsType<RatioSet.Bounded>(Fieller.Of(
            a.Mean.Value, Math.Pow(a.Mean.StandardUncertainty!.Value, 2), b.Mean.Value, Math.Pow(b.Mean.StandardUncertainty!.Value, 2), 0,
            StudentDistribution.TwoSidedFactor(0.95, dof)));
        Assert.Equal(expected.Low, set.Low, 1e-12);
        Assert.Equal(expected.High, set.High, 1e-12);
        Assert.Equal(set.Low, comparison.Ratio.Interval()!.Value.Low);
        Assert.Null(comparison.Note);
    }

    [Fact]
    public void With_two_runs_the_degrees_of_freedom_lie_between_welchs_and_those_of_one_scatter()
    {
        // Relative variances of the means 0.0025 and 0.000025, by hand: Welch (0.002525²)/(0.0025² + 0.000025²) = 1.0200; one relative
        // scatter 2.
        Measured[] pad = [.. new[] { 19.0, 21.0 }.Select(v => Measured.Exact(v, "Wh"))];
        Measured[] cable = [.. new[] { 9.95, 10.05 }.Select(v => Measured.Exact(v, "Wh"))];
        var comparison = RatioOfMeans.Compare(Repeatability.Combine(pad, new("p")), Repeatability.Combine(cable, new("c")));
        Assert.InRange(comparison.Ratio.DegreesOfFreedom!.Value, 1.03, 1.99);
    }

    [Fact]
    public void Scatters_that_clearly_differ_keep_welchs_degrees_of_freedom()
    {
        Measured[] pad = [.. new[] { 19.0, 20.0, 21.0, 19.5 }.Select(v => Measured.Exact(v, "Wh"))];
        Measured[] cable = [.. new[] { 13.200, 13.201, 13.199, 13.200 }.Select(v => Measured.Exact(v, "Wh"))];
        var comparison = RatioOfMeans.Compare(Repeatability.Combine(pad, new("p")), Repeatability.Combine(cable, new("c")));
        Assert.Equal(3, comparison.Ratio.DegreesOfFreedom!.Value, 0.001);
    }

    [Fact]
    public void The_same_meter_cancels_and_two_meters_do_not()
    {
        var other = new InfluenceSource("meter:plug/power-gain", Shared: true, Shape: ErrorShape.Rectangular);
        var cable = Repeatability.Combine([Run(13.2, "1", noise: 0)], new("c"));
        var same = RatioOfMeans.Compare(Repeatability.Combine([Run(19.8, "2", noise: 0)], new("p")), cable);
        var two = RatioOfMeans.Compare(Repeatability.Combine([Run(19.8, "2", noise: 0, gain: other)], new("p")), cable);

        Assert.Equal(0, same.Ratio.StandardUncertainty!.Value, 1e-15);
        Assert.Equal(1.5 * 0.005 * Math.Sqrt(2), two.Ratio.StandardUncertainty!.Value, 1e-12);

        // Two equal rectangular errors make a triangle: k = √6(1 − √0.05) = 1.902. Fieller's ends lie a little to the right.
        Assert.Equal(Math.Sqrt(6) * (1 - Math.Sqrt(0.05)), two.Ratio.Interval()!.Value.CoverageFactor, 1e-3);
        Assert.Contains("one run of each", two.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void One_run_on_one_side_only_is_said()
    {
        var comparison = RatioOfMeans.Compare(Repeatability.Combine([Run(19.8, "2")], new("p")),
            Repeatability.Combine([Run(13.1, "3"), Run(13.2, "4")], new("c")));
        Assert.Contains("on one side", comparison.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_runs_come_with_a_warning_and_three_without()
    {
        MeanOfRuns Mean(params double[] values) =>
            Repeatability.Combine([.. values.Select((v, i) => Run(v, $"{values[0]}-{i}"))], new($"m{values[0]}"));
        Assert.Contains("Two runs", RatioOfMeans.Compare(Mean(19.8, 19.9), Mean(13.2, 13.1, 13.3)).Note, StringComparison.Ordinal);
        Assert.Null(RatioOfMeans.Compare(Mean(19.8, 19.9, 19.7), Mean(13.2, 13.1, 13.3)).Note);
    }

    [Fact]
    public void A_reference_that_may_be_zero_gets_no_interval()
    {
        var poor = Measured.From(0.02, "W", [new(new InfluenceSource("meter:plug/power-offset", Shared: true), 0.02)]);
        var comparison = RatioOfMeans.Compare(Measured.From(0.5, "W", [new(new InfluenceSource("a"), 0.01)]), poor);
        Assert.IsNotType<RatioSet.Bounded>(comparison.Set);
        Assert.Null(comparison.Ratio.Interval());
        Assert.Contains("cannot be told from zero", comparison.Ratio.UnknownBecause, StringComparison.Ordinal);
        Assert.Contains("no bounded interval", comparison.Note, StringComparison.Ordinal);

        var zero = RatioOfMeans.Compare(Measured.Exact(1, "W"), Measured.Exact(0, "W"));
        Assert.True(double.IsNaN(zero.Ratio.Value));
        Assert.Null(zero.Ratio.Interval());
    }

    [Fact]
    public void A_numerator_of_zero_has_a_ratio_of_zero_with_an_interval()
    {
        var nothing = Repeatability.Combine([Run(-0.1, "1"), Run(0.1, "2"), Run(0, "3")], new("p"));
        var ratio = RatioOfMeans.Compare(nothing, Repeatability.Combine([Run(13.1, "4"), Run(13.2, "5"), Run(13.3, "6")], new("c"))).Ratio;
        Assert.Equal(0, ratio.Value, 1e-12);
        Assert.True(ratio.Interval()!.Value.Low < 0 && ratio.Interval()!.Value.High > 0);
    }

    [Fact]
    public void Different_units_are_refused_and_a_change_of_unit_changes_nothing()
    {
        Assert.Throws<ArgumentException>(() => RatioOfMeans.Compare(Measured.Exact(1, "Wh"), Measured.Exact(1, "J")));
        Measured a = Run(19.8, "1"), b = Run(13.2, "2");
        var here = RatioOfMeans.Compare(a, b).Ratio;
        var there = RatioOfMeans.Compare(a.In("J", 3600), b.In("J", 3600)).Ratio;
        Assert.Equal(here.Interval()!.Value.Low, there.Interval()!.Value.Low, 1e-12);
        Assert.Equal(here.StandardUncertainty!.Value, there.StandardUncertainty!.Value, 1e-12);
    }
}
