using ChargeAudit.Checking;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Checking;

public sealed class CheckerTests
{
    private static readonly double[] Before = [10.00, 10.02, 9.98, 10.01, 9.99];
    private static readonly MeasuredDesign Baseline = CheckCases.Design("base", Before);

    [Theory]
    [InlineData(1.000, CheckVerdict.Pass)]
    [InlineData(1.015, CheckVerdict.Pass)]
    [InlineData(1.0195, CheckVerdict.Inconclusive)]
    [InlineData(1.030, CheckVerdict.Fail)]
    public void The_verdict_follows_the_bounds(double ratio, CheckVerdict expected)
    {
        var result = Check(ratio, 0.02);
        var figure = Assert.Single(result.Figures);
        Assert.Equal((expected, expected), (result.Verdict, figure.Verdict));
        Assert.Equal(ratio, figure.Ratio!.Value, 1e-9);
        Assert.Equal(expected == CheckVerdict.Pass, figure.Test!.UpperBound <= 1.02);
        Assert.Equal(expected == CheckVerdict.Fail, figure.Test.LowerBound > 1.02);
        Assert.NotEmpty(result.Reasons);
    }

    [Fact]
    public void Less_energy_always_passes() => Assert.Equal(CheckVerdict.Pass, Check(0.7, 0).Verdict);

    [Fact]
    public void What_one_meter_does_to_both_cancels_and_what_two_do_does_not()
    {
        double[] after = [.. Before.Select(e => e * 1.01)];
        var same = Checker.Run(CheckCases.Design("new", after, 0.02), CheckCases.Design("base", Before, 0.02), CheckCases.EnergyOnly(0.02));
        var two = Checker.Run(CheckCases.Design("new", after, 0.02, meterShared: false),
            CheckCases.Design("base", Before, 0.02, meterShared: false), CheckCases.EnergyOnly(0.02));
        Assert.Equal(CheckVerdict.Pass, same.Verdict);
        Assert.Equal(CheckVerdict.Inconclusive, two.Verdict);
        Assert.Contains("uncertainty of the meter dominates", two.Figures[0].Settling!.Sentence, StringComparison.Ordinal);
        Assert.Null(two.Figures[0].Settling!.FurtherCandidateRuns);
    }

    [Fact]
    public void An_inconclusive_figure_names_the_runs_that_would_settle_it()
    {
        var noisy = Checker.Run(CheckCases.Design("new", [10.0, 10.4, 9.6]), Baseline, CheckCases.EnergyOnly(0.02)).Figures[0].Settling!;
        Assert.InRange(noisy.FurtherCandidateRuns!.Value, 20, 30);
        Assert.Equal(0, noisy.FurtherBaselineRuns);
        Assert.Contains("0.8", noisy.Sentence, StringComparison.Ordinal);
        var noisyBaseline = Check(1.01, 0.02, CheckCases.Design("base", [10.0, 10.2, 9.8])).Figures[0].Settling!;
        Assert.InRange(noisyBaseline.FurtherBaselineRuns!.Value, 20, 30);
        var hopeless = Check(1.02, 0.02).Figures[0].Settling!;
        Assert.Null(hopeless.FurtherCandidateRuns);
        Assert.Contains("lies", hopeless.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void One_run_tells_no_scatter_unless_its_repeatability_is_given()
    {
        var candidate = CheckCases.Design("new", [10.0]);
        var open = Checker.Run(candidate, Baseline, CheckCases.EnergyOnly(0.02));
        Assert.Equal(CheckVerdict.Inconclusive, open.Verdict);
        Assert.Contains("one run", open.Figures[0].Note, StringComparison.Ordinal);
        Assert.Equal(CheckVerdict.Pass,
            Checker.Run(candidate, Baseline, CheckCases.EnergyOnly(0.02) with { Repeatability = 0.005 }).Verdict);
        Assert.Equal(CheckVerdict.Inconclusive,
            Checker.Run(candidate, Baseline, CheckCases.EnergyOnly(0.02) with { Repeatability = 0.05 }).Verdict);
    }

    [Fact]
    public void One_run_of_each_with_a_stated_scatter_says_what_would_settle_it()
    {
        // Candidate of 1 run 1 % above, margin 2 %, scatter 1 % stated for both: the baseline's single run alone leaves 1 %, so further
        // runs of the candidate cannot settle it.
        var figure = Checker.Run(CheckCases.Design("new", [10.1]), CheckCases.Design("base", [10.0]),
            CheckCases.EnergyOnly(0.02) with { Repeatability = 0.01 }).Figures[0];
        Assert.Equal(CheckVerdict.Inconclusive, figure.Verdict);
        Assert.Contains("of the baseline would settle it", figure.Settling!.Sentence, StringComparison.Ordinal);
        Assert.InRange(figure.Settling.FurtherCandidateRuns!.Value, 8, 20);
    }

    [Fact]
    public void A_figure_that_only_one_side_has_is_inconclusive_and_one_that_neither_has_is_left_out()
    {
        var rules = new CheckRules { Margin = 0.02, Figures = [CheckedFigure.EnergyPerCharge, CheckedFigure.NoLoadPower] };
        var neither = Checker.Run(Candidate(1), Baseline, rules);
        Assert.Equal(CheckVerdict.Pass, neither.Verdict);
        Assert.Contains(neither.NotCompared, n => n.Contains("power when waiting", StringComparison.Ordinal));

        var known =
            Figure.Of(
                Measured.From(0.2, "W",
                [new UncertaintyComponent(new InfluenceSource("x", 3) { Kind = SourceKind.Repeatability }, 0.001)]));
        var withNoLoad = Baseline.With(m => m with
        {
            Points = m.Points.ToDictionary(p => p.Key, p => p.Value with { NoLoadPower = known }),
        });
        var one = Checker.Run(Candidate(1), withNoLoad, rules);
        Assert.Equal(CheckVerdict.Inconclusive, one.Verdict);
        Assert.Contains("The study has no such figure", one.Figures.Single(f => f.Verdict == CheckVerdict.Inconclusive).Note,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_figure_that_the_meter_does_not_see_is_left_out()
    {
        var nothing =
            Figure.Of(
                Measured.From(0, "W", [new UncertaintyComponent(new InfluenceSource("x", 3) { Kind = SourceKind.Repeatability }, 0.001)]));
        static MeasuredDesign With(MeasuredDesign design, Figure noLoad) =>
            design.With(m => m with { Points = m.Points.ToDictionary(p => p.Key, p => p.Value with { NoLoadPower = noLoad }) });
        var rules = new CheckRules { Margin = 0.02, Figures = [CheckedFigure.EnergyPerCharge, CheckedFigure.NoLoadPower] };
        var result = Checker.Run(With(Candidate(1), nothing), With(Baseline, nothing), rules);
        Assert.Equal(CheckVerdict.Pass, result.Verdict);
        Assert.Contains(result.NotCompared, n => n.Contains("shows nothing", StringComparison.Ordinal));
    }

    [Fact]
    public void Among_many_figures_a_single_weak_failure_is_not_enough()
    {
        // The lone figure fails at 0.05; among three the smallest p must be below 0.05/3.
        double[] after = [10.245, 10.21, 10.275, 10.20, 10.255];
        var alone = Checker.Run(CheckCases.Design("new", after), Baseline, CheckCases.EnergyOnly(0.02));
        Assert.InRange(alone.Figures[0].Test!.PBeyond, 0.05 / 3, 0.05);
        Assert.Equal(CheckVerdict.Fail, alone.Verdict);
        var rules = new CheckRules
        {
            Margin = 0.02,
            Margins = new Dictionary<CheckedFigure, double> { [CheckedFigure.PeakPower] = 0.5, [CheckedFigure.ChargeDuration] = 0.5 },
        };
        var three = Checker.Run(CheckCases.Design("new", after), Baseline, rules);
        Assert.Equal(3, three.Figures.Count);
        Assert.Equal(CheckVerdict.Inconclusive, three.Verdict);
        var energy = three.Figures.Single(f => f.Figure == CheckedFigure.EnergyPerCharge);
        Assert.Equal((CheckVerdict.Fail, false), (energy.Verdict, energy.FailsAdjusted));
        Assert.Equal(3 * energy.Test!.PBeyond, energy.PBeyondAdjusted!.Value, 1e-12);
    }

    [Fact]
    public void Unknown_meter_uncertainty_gives_no_verdict()
    {
        var unknown = Baseline.With(m => m with
        {
            Points = m.Points.ToDictionary(p => p.Key, p => p.Value with
            {
                EnergyPerCharge = Figure.Of(Measured.Unknown(10, "Wh", "no accuracy is given for the meter")),
            }),
        });
        var result = Checker.Run(Candidate(1), unknown, CheckCases.EnergyOnly(0.02));
        Assert.Equal(CheckVerdict.Inconclusive, result.Verdict);
        Assert.Contains("no accuracy is given", result.Reasons[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Another_device_battery_point_meter_state_or_kind_is_refused()
    {
        Refused(c => c with { DeviceName = "Q" }, "device");
        Refused(c => c with { BatteryWh = 13 }, "battery");
        Refused(c => c.With(m => m with { Kind = MethodKind.Wired }), "wired");
        Refused(c => c.With(m => m with { Points = m.Points.ToDictionary(_ => MeasuringPoint.Wall, p => p.Value) }), "measured at wall");
        Refused(c =>
            c.With(m => m.WithRuns(r => r with { Points = r.Points.ToDictionary(p => p.Key, p => p.Value with { Meter = "other" }) })),
            "other");
        Refused(c => c.With(m => m.WithRuns(r => r with { StartChargePercent = 20 })), "start at a state of charge");
        Refused(c => c.With(m => m.WithRuns(r => r with { EndChargePercent = null })), "end-charge");
        Refused(c => c.With(m => m with { Name = "stand" }), "nothing to compare");
        Refused(c => c.With(m => m.WithRuns(r => r with { Factors = Placed(4, "none") })), "offset x");
    }

    [Fact]
    public void A_point_may_have_a_margin_of_its_own()
    {
        var rules = CheckCases.EnergyOnly(0.02) with
        {
            PointMargins =
                new Dictionary<(MeasuringPoint Point, CheckedFigure Figure), double>
                {
                    [
                (MeasuringPoint.Usb, CheckedFigure.EnergyPerCharge)] = 0.08
                },
        };
        var figure = Assert.Single(Checker.Run(Candidate(1.05), Baseline, rules).Figures);
        Assert.Equal((0.08, CheckVerdict.Pass), (figure.Margin, figure.Verdict));
        Assert.Equal(CheckVerdict.Fail, Checker.Run(Candidate(1.05), Baseline, CheckCases.EnergyOnly(0.02)).Verdict);
    }

    [Fact]
    public void Runs_with_the_same_settings_are_compared_and_those_with_others_are_not()
    {
        MeasuredDesign Set(MeasuredDesign design, params RunFactors[] settings) => design.With(m => m with
        {
            Runs = [.. m.Runs.Select((r, i) => r with { Factors = settings[i % settings.Length] })],
        });
        var baseline = Set(Baseline, Placed(0, "none"));
        Assert.Equal(CheckVerdict.Pass, Checker.Run(Set(Candidate(1), Placed(0, "none")), baseline, CheckCases.EnergyOnly(0.02)).Verdict);
        foreach (var (other, mentions) in new[] { (Placed(0, "silicone"), "case of the runs of pad is silicone"),
            (Placed(0, null), "case of the runs of pad is not given"), (Placed(4, "none"), "offset x of the runs of pad is 4 mm") })
        {
            var e = Assert.Throws<InputException>(() => Checker.Run(Set(Candidate(1), other), baseline, CheckCases.EnergyOnly(0.02)));
            Assert.Contains(mentions, e.Message, StringComparison.Ordinal);
        }

        // With half of the runs elsewhere the mean position differs, too.
        var half =
            Assert.Throws<InputException>(() =>
            Checker.Run(Set(Candidate(1), Placed(0, "none"), Placed(4, "none")), baseline, CheckCases.EnergyOnly(0.02)));
        Assert.Contains("4 mm (", half.Message, StringComparison.Ordinal);
    }

    private static RunFactors Placed(double xMm, string? box) => new(new Dictionary<Factor, double> { [Factor.OffsetX] = xMm }, box);

    [Fact]
    public void Logs_of_the_baseline_are_no_new_measurement()
    {
        var all = Assert.Throws<InputException>(() => Checker.Run(Baseline, Baseline, CheckCases.EnergyOnly(0.02)));
        Assert.Contains("baseline's own", all.Message, StringComparison.Ordinal);
        var mixed = Candidate(1).With(m => m with { Runs = [.. m.Runs.Skip(1), Baseline.Methods[0].Runs[0]] });
        var some = Assert.Throws<InputException>(() => Checker.Run(mixed, Baseline, CheckCases.EnergyOnly(0.02)));
        Assert.Contains("base-1.csv", some.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_margin_is_wrong_usage()
    {
        var e = Assert.Throws<InputException>(() =>
            Checker.Run(Candidate(1), Baseline, new CheckRules { Figures = [CheckedFigure.EnergyPerCharge] }));
        Assert.Equal(InputProblem.Usage, e.Problem);
    }

    [Fact]
    public void A_baseline_that_cannot_be_told_from_zero_gives_no_verdict()
    {
        var result = Checker.Run(CheckCases.Design("new", [0.1, 0.2, 0.3]), CheckCases.Design("base", [1.0, 0.01, -0.7]),
            CheckCases.EnergyOnly(0.5));
        Assert.Equal(CheckVerdict.Inconclusive, result.Verdict);
        Assert.Equal(double.PositiveInfinity, result.Figures[0].Test!.UpperBound);
    }

    private static MeasuredDesign Candidate(double ratio) => CheckCases.Design("new", [.. Before.Select(e => e * ratio)]);

    private static CheckResult Check(double ratio, double margin, MeasuredDesign? baseline = null) =>
        Checker.Run(Candidate(ratio), baseline ?? Baseline, CheckCases.EnergyOnly(margin));

    private static void Refused(Func<MeasuredDesign, MeasuredDesign> change, string mentions)
    {
        var e = Assert.Throws<InputException>(() => Checker.Run(change(Candidate(1)), Baseline, CheckCases.EnergyOnly(0.02)));
        Assert.Equal(InputProblem.Unusable, e.Problem);
        Assert.Contains(mentions, e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_baseline_near_zero_does_not_hide_what_the_test_shows()
    {
        // 5 mW and 175 mW, each known to 4 mW in three runs: T = (175 − 1.02·5)/√(4² + (1.02·4)²) = 29.7, while the baseline cannot be told
        // from zero (5/4 is below Student's factor), so the ratio has no upper bound.
        var result = Checker.Run(With(Candidate(1), NoLoad(0.175, 0.004)), With(Baseline, NoLoad(0.005, 0.004)), NoLoadOnly);
        var figure = Assert.Single(result.Figures);
        Assert.Equal(29.7, figure.Test!.T, 0.05);
        Assert.Equal(CheckVerdict.Fail, result.Verdict);
        Assert.Equal(double.PositiveInfinity, figure.Test.UpperBound);
        Assert.InRange(figure.Test.LowerBound, 5, 35);
        string reason = Assert.Single(result.Reasons);
        Assert.Contains("at least +", reason, StringComparison.Ordinal);
        Assert.DoesNotContain("no lower bound", reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_baseline_of_nothing_is_decided_by_the_test_too()
    {
        var result = Checker.Run(With(Candidate(1), NoLoad(0.175, 0.004)), With(Baseline, NoLoad(0, 0.004)), NoLoadOnly);
        Assert.Equal(CheckVerdict.Fail, result.Verdict);
        Assert.Null(result.Figures[0].Ratio);
        Assert.Contains("the baseline shows nothing, and the candidate does", result.Reasons[0], StringComparison.Ordinal);
        Assert.Equal(CheckVerdict.Pass,
            Checker.Run(With(Candidate(1), NoLoad(0.005, 0.001)), With(Baseline, NoLoad(0.1, 0.001)), NoLoadOnly).Verdict);
    }

    [Fact]
    public void Runs_that_agree_to_the_last_digit_leave_the_meters_part()
    {
        static Figure Same(double powerW, double halfStepW) => Figure.Of(Measured.From(powerW, "W",
        [
            new UncertaintyComponent(InfluenceSource.OfMethod("pad", SourceKind.Steps, "steps"), halfStepW),
            new UncertaintyComponent(InfluenceSource.ScatterOf("pad", "no-load") with { DegreesOfFreedom = 2 }, 0),
        ]));
        var worse = Checker.Run(With(Candidate(1), Same(0.120, 0.001)), With(Baseline, Same(0.100, 0.001)), NoLoadOnly);
        Assert.Equal(CheckVerdict.Fail, worse.Verdict);
        Assert.Contains("the test rests on the meter's part alone", worse.Reasons[0], StringComparison.Ordinal);
        var unknown = Checker.Run(With(Candidate(1), Same(0.120, 0)), With(Baseline, Same(0.100, 0)), NoLoadOnly);
        Assert.Equal(CheckVerdict.Inconclusive, unknown.Verdict);
        Assert.Contains("make the readings finer", unknown.Reasons[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_meter_stated_otherwise_than_in_the_baseline_is_told()
    {
        static Figure Of(double powerW, double gain) => Figure.Of(Measured.From(powerW, "W",
        [
            new UncertaintyComponent(InfluenceSource.OfMeter("bench", SourceKind.MeterGain, "gain", ErrorShape.Rectangular), gain * powerW),
            new UncertaintyComponent(InfluenceSource.ScatterOf("pad", "no-load") with { DegreesOfFreedom = 2 }, 0.0002),
        ]));
        var changed = Checker.Run(With(Candidate(1), Of(0.1, 0.01)), With(Baseline, Of(0.1, 0.005)), NoLoadOnly);
        Assert.Contains(
            "The accuracy stated for bench has changed: its gain is known within 0.5 % (one standard uncertainty) in the baseline and 1 % "
            + "in the study", Assert.Single(changed.Figures).Note, StringComparison.Ordinal);
        Assert.Contains(changed.Reasons, r => r.Contains("has changed", StringComparison.Ordinal));
        Assert.Null(Checker.Run(With(Candidate(1), Of(0.1, 0.005)), With(Baseline, Of(0.1, 0.005)), NoLoadOnly).Figures[0].Note);
    }

    // The gain of one meter cancels in an overhead ratio but for digits that mean nothing.
    [Fact]
    public void A_trace_of_a_gain_that_cancels_is_no_other_accuracy()
    {
        static Figure Of(double powerW, double gain) => Figure.Of(Measured.From(powerW, "W",
        [
            new UncertaintyComponent(InfluenceSource.OfMeter("bench", SourceKind.MeterGain, "gain", ErrorShape.Rectangular), gain * powerW),
            new UncertaintyComponent(InfluenceSource.ScatterOf("pad", "no-load") with { DegreesOfFreedom = 2 }, 0.0002),
        ]));

        Assert.Null(Checker.Run(With(Candidate(1), Of(0.1, 1e-7)), With(Baseline, Of(0.1, 3e-6)), NoLoadOnly).Figures[0].Note);
    }

    [Theory]
    [InlineData(0.02, "2 %")]
    [InlineData(0.00001, "0.001 %")]
    [InlineData(0.0125, "1.25 %")]
    [InlineData(0.000004, "0.0004 %")]
    [InlineData(0, "0 %")]
    public void A_margin_is_never_printed_as_nothing(double share, string text) => Assert.Equal(text, CheckReasons.Percent(share));

    private static CheckRules NoLoadOnly { get; } = new() { Margin = 0.02, Figures = [CheckedFigure.NoLoadPower] };

    private static Figure NoLoad(double powerW, double standardW) => Figure.Of(Measured.From(
        powerW, "W", [new UncertaintyComponent(InfluenceSource.ScatterOf("pad", "no-load") with { DegreesOfFreedom = 2 }, standardW)]));

    private static MeasuredDesign With(MeasuredDesign design, Figure noLoad) =>
        design.With(m => m with { Points = m.Points.ToDictionary(p => p.Key, p => p.Value with { NoLoadPower = noLoad }) });
}
