using ChargeAudit.Checking;
using ChargeAudit.Checking.Planning;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Json;
using ChargeAudit.Tests.Reports.Json;

namespace ChargeAudit.Tests.Checking;

/// <summary>Runs made in blocks (days): what check and plan make of them.</summary>
public sealed class BlockTests
{
    private static readonly double[] Energies = [10.00, 10.02, 10.11, 10.13, 9.91, 9.89];
    private static readonly string[] Days = ["Mon", "Mon", "Tue", "Tue", "Wed", "Wed"];

    // Days of 10.01, 10.12 and 9.90: they scatter by 0.11, so that is the scatter of a block, and the figure rests on three blocks.
    [Fact]
    public void A_check_counts_blocks_and_not_runs()
    {
        var figure = Checker.Run(Design("new", Days), Design("base", Days), CheckCases.EnergyOnly(0.015)).Figures[0];
        Assert.Equal((3, 3), (figure.CandidateRuns, figure.BaselineRuns));
        Assert.Equal(0.11 / 10.01, figure.CandidateScatter!.Value, 1e-4);
        Assert.Equal(CheckVerdict.Inconclusive, figure.Verdict);
        Assert.Contains("blocks (days, set-ups) of runs", figure.Settling!.Sentence, StringComparison.Ordinal);

        // Taken as six independent runs, the same numbers would pass a wider margin sooner.
        var plain = Checker.Run(CheckCases.Design("new", Energies), CheckCases.Design("base", Energies),
            CheckCases.EnergyOnly(0.015)).Figures[0];
        Assert.True(plain.Test!.PWithin < figure.Test!.PWithin);
    }

    [Fact]
    public void Runs_of_one_day_tell_nothing_of_how_days_differ()
    {
        string[] oneDay = [.. Days.Select(_ => "Mon")];
        var figure = Checker.Run(Design("new", oneDay), Design("base", Days), CheckCases.EnergyOnly(0.02)).Figures[0];
        Assert.Equal(CheckVerdict.Inconclusive, figure.Verdict);
        Assert.Contains("The candidate rests on runs of one block (day, set-up)", figure.Note, StringComparison.Ordinal);
        var known = CheckCases.EnergyOnly(0.05) with { Repeatability = 0.001 };
        Assert.Null(Checker.Run(Design("new", oneDay), Design("base", oneDay), known).Figures[0].Note);
    }

    [Fact]
    public void A_plan_reckons_with_the_scatter_between_blocks()
    {
        var plan = TestPlanner.Make(new PlanRequest
        {
            Aim = new RunsAim(PlanAim.KeepMargin, 0.05),
            Repeatability = 0.01,
            BetweenBlocks = 0.02,
        });
        Assert.Equal([1, 2, 5], plan.Runs.Select(r => r.RunsInBlock));

        // √(2² + 1²/n) per cent.
        Assert.Equal([0.022361, 0.021213, 0.020494], plan.Runs.Select(r => Math.Round(r.Repeatability, 6)));

        // More runs on a day help little where days differ most.
        Assert.True(plan.Runs[2].SameMeter >= plan.Runs[0].SameMeter - 2);
        Assert.Empty(ResultsSchema.Problems(PlanJson.Of(plan)));
        var seen = Assert.Single(SeenRepeatability.Of(Design("base", Days)));
        Assert.Equal((3, true), (seen.Runs, seen.InBlocks));
    }

    [Fact]
    public void How_much_blocks_differ_goes_with_how_much_runs_do()
    {
        var e = Assert.Throws<ChargeAudit.Metrology.Diagnostics.InputException>(() =>
            TestPlanner.Make(new PlanRequest { Aim = new RunsAim(PlanAim.KeepMargin, 0.05), BetweenBlocks = 0.02 }));
        Assert.Contains("counts only together with how much runs differ within one", e.Message, StringComparison.Ordinal);
    }

    private static MeasuredDesign Design(string title, string[] days)
    {
        Measured[] runs = [.. Energies.Select(e => Measured.Exact(e, "Wh"))];
        var mean = Repeatability.Combine(runs, InfluenceSource.ScatterOf("pad", "usb"), days).Mean;
        return CheckCases.Design(title, runs).With(m => m with
        {
            Runs = [.. m.Runs.Zip(days, (run, day) => run with { Block = day })],
            Points = m.Points.ToDictionary(p => p.Key, p => p.Value with { EnergyPerCharge = Figure.Of(mean) }),
        });
    }
}
