using ChargeAudit.Checking;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Checking;

/// <summary>The overhead ratio as a figure of its own: candidate and baseline each against the same day's wired reference.</summary>
public sealed class OverheadFigureTests
{
    private static readonly double[] Pad = [15.00, 15.06, 14.94, 15.03, 14.97];
    private static readonly double[] Cable = [10.00, 10.02, 9.98, 10.01, 9.99];

    [Fact]
    public void What_meter_and_day_do_to_both_cancels()
    {
        // The meter reads 3 % more on the candidate's day: the energies look worse, the ratio of pad to cable does not.
        var result = Checker.Run(Design("new", 1.03, 1.03), Design("base", 1, 1), Rules);
        var overhead = Assert.Single(result.Figures, f => f.Figure == CheckedFigure.OverheadRatio);
        Assert.Equal((CheckVerdict.Pass, 5, 5), (overhead.Verdict, overhead.CandidateRuns, overhead.BaselineRuns));
        Assert.Equal((1.5, 1.0), (Math.Round(overhead.Candidate!.Value, 9), Math.Round(overhead.Ratio!.Value, 9)));
        Assert.Equal(CheckVerdict.Fail, result.Figures.Single(f => f.Method == "pad" && f.Figure == CheckedFigure.EnergyPerCharge).Verdict);
        Assert.Equal("pad, overhead ratio at the adapter's output", CheckReasons.Name(overhead));

        // A worse pad is seen in both.
        var worse = Checker.Run(Design("new", 1.05, 1), Design("base", 1, 1), Rules);
        Assert.Equal(CheckVerdict.Fail, worse.Figures.Single(f => f.Figure == CheckedFigure.OverheadRatio).Verdict);
    }

    // s = 0.0474 of the pad's 15 and 0.0158 of the cable's 10: shares 0.316 % and 0.158 %, by √5 for the mean: u(ratio)/ratio = √(0.00316²
    // + 0.00158²)/√5 = 0.00158; Welch's degrees of freedom of the two: 4·(1 + ¼)²/(1 + 1/16) = 5.88.
    [Fact]
    public void Its_uncertainty_is_that_of_both_scatters()
    {
        var overhead =
            Checker.Run(Design("new", 1, 1), Design("base", 1, 1), Rules).Figures.Single(f => f.Figure == CheckedFigure.OverheadRatio);
        Assert.Equal(1.5 * 0.00158, overhead.Candidate!.StandardUncertainty!.Value, 1e-5);
        Assert.Equal(5.88, overhead.Candidate.DegreesOfFreedom!.Value, 0.01);
        Assert.Equal(Math.Sqrt(5) * 0.00158, overhead.CandidateScatter!.Value, 1e-5);
    }

    [Fact]
    public void Without_a_reference_of_the_same_day_and_meter_there_is_none()
    {
        var kept = Checker.Run(Design("new", 1, 1, cableTitle: "base"), Design("base", 1, 1), Rules);
        Assert.DoesNotContain(kept.Figures, f => f.Figure == CheckedFigure.OverheadRatio);
        Assert.Contains(kept.NotCompared, n => n.Contains("cable was not measured again", StringComparison.Ordinal));
        var none = Checker.Run(Design("new", 1, 1) with { Reference = null }, Design("base", 1, 1), Rules);
        Assert.Contains(none.NotCompared, n => n.Contains("the study has no reference by cable there", StringComparison.Ordinal));
        var meters = Design("new", 1, 1).With(m => m.Name == "pad" ? m : Metered(m));
        var apart = Checker.Run(meters, Design("base", 1, 1).With(m => m.Name == "pad" ? m : Metered(m)), Rules);
        Assert.Contains(apart.NotCompared, n => n.Contains("with bench and its reference with other", StringComparison.Ordinal));
    }

    [Fact]
    public void One_run_of_the_reference_tells_no_scatter()
    {
        var baseline = Design("base", 1, 1);
        var candidate = Design("new", 1, 1, cable: [10.0]);
        var figure = Checker.Run(candidate, baseline, Rules).Figures.Single(f => f.Figure == CheckedFigure.OverheadRatio);
        Assert.Equal(CheckVerdict.Inconclusive, figure.Verdict);
        Assert.Contains("one run of the method or of its reference", figure.Note, StringComparison.Ordinal);
        Assert.Equal(CheckVerdict.Pass,
            Checker.Run(candidate, baseline, Rules with { Repeatability = 0.001 }).Figures.Single(f => f.Figure
            == CheckedFigure.OverheadRatio).Verdict);
    }

    private static CheckRules Rules { get; } = new()
    {
        Margin = 0.02,
        Figures = [CheckedFigure.EnergyPerCharge, CheckedFigure.OverheadRatio],
    };

    private static DesignMethod Metered(DesignMethod method) => method.WithRuns(r => r with
    {
        Points = r.Points.ToDictionary(p => p.Key, p => p.Value with { Meter = "other" }),
    });

    private static MeasuredDesign Design(string title, double ofPad, double ofCable, double[]? cable = null, string? cableTitle = null)
    {
        var pad = CheckCases.Design(title, [.. Pad.Select(e => e * ofPad)]);
        var wired = CheckCases.Design((cableTitle ?? title) + "-cable", [.. (cable ?? Cable).Select(e => e * ofCable)]);
        var method = wired.Methods[0] with
        {
            Name = "cable",
            Kind = MethodKind.Wired,
            Points = new Dictionary<MeasuringPoint, DesignPoint>
            {
                [MeasuringPoint.Usb] = wired.Methods[0].Points[MeasuringPoint.Usb] with
                {
                    EnergyPerCharge = Figure.Of(Repeatability.Combine(
                        [.. (cable ?? Cable).Select(e => Measured.Exact(e * ofCable, "Wh"))],
                            InfluenceSource.ScatterOf("cable", "usb")).Mean),
                },
            },
        };
        return pad with
        {
            Reference = "cable",
            Methods = [method, pad.Methods[0]],
            LogSha256 = pad.LogSha256.Concat(wired.LogSha256).ToHashSet(),
        };
    }
}
