using ChargeAudit.Comparing.Placement;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Placement;

/// <summary>Gap, case and the like: curves, model terms, and what cannot be told apart.</summary>
public sealed class OtherFactorsTests
{
    [Fact]
    public void A_case_is_told_by_means_and_enters_the_model_beside_the_most_frequent_one()
    {
        var runs = new PlacedRuns("pad");
        foreach (var (box, extra) in new[] { ("none", 0.0), ("none", 0.0), ("none", 0.0), ("silicone", 0.6), ("silicone", 0.6),
            ("leather", 0.3), ("leather", 0.3) })
        {
            runs.Add(10 + extra + (0.001 * runs.Result.Runs.Count), box: box);
        }

        var m = PlacedRuns.Find(0.05, runs)!.Methods[0];
        var curve = Assert.Single(m.Responses);
        Assert.Equal(["leather", "none", "silicone"], curve.Levels.Select(l => l.Name));
        Assert.Equal((0, 0), (curve.Order, curve.Line.Count));
        Assert.All(curve.Levels, l => Assert.NotNull(l.Shown.Interval()));
        Assert.Equal(["constant", "case:leather", "case:silicone"], m.Model!.Terms.Select(t => t.Id));
        Assert.Equal(0.6, m.Model.Terms[2].Coefficient.Value, 2);
        Assert.Null(m.Tolerance);
        Assert.Contains("offset-x and offset-y", m.WhyNoMap, StringComparison.Ordinal);
    }

    [Fact]
    public void Factors_that_changed_together_are_told_and_not_both_fitted()
    {
        var runs = new PlacedRuns("pad");
        foreach (int i in Enumerable.Range(0, 8))
        {
            runs.Add(10 + (0.2 * i) + (0.01 * (i % 2)), factors: [(Factor.Gap, 3 + i), (Factor.PowerLevel, 5 + (2 * i))]);
        }

        var m = PlacedRuns.Find(0.05, runs)!.Methods[0];
        Assert.All(m.Responses, r => Assert.Contains("changed together with", r.Caution, StringComparison.Ordinal));
        Assert.Equal(["constant", "gap"], m.Model!.Terms.Select(t => t.Id));
        Assert.Contains("power level is left out", Assert.Single(m.Model.Notes), StringComparison.Ordinal);
    }

    [Fact]
    public void An_offset_that_follows_the_gap_gives_no_tolerance()
    {
        var runs = new PlacedRuns("pad");
        foreach (int i in new[] { 0, 1, 2, 0, 1, 2 })
        {
            runs.Add(10 + i + (0.01 * runs.Result.Runs.Count), factors: [(Factor.OffsetX, 3 * i), (Factor.Gap, 3 + i)]);
        }

        var m = PlacedRuns.Find(0.05, runs)!.Methods[0];
        Assert.Contains(m.Responses, r => r.Caution!.Contains("changed together with", StringComparison.Ordinal));
        Assert.Contains(m.Model!.Notes, n => n.Contains("gap is left out", StringComparison.Ordinal));
        Assert.Contains("changed together", m.Tolerance!.Sentence("pad"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_map_shows_one_setting_of_the_other_factors_and_the_model_uses_all()
    {
        var runs = new PlacedRuns("pad");
        foreach (double gap in new[] { 3.0, 6.0 })
        {
            foreach (var (x, y) in gap == 3 ? PlacedRuns.Cross : PlacedRuns.Cross[..5])
            {
                runs.Add(10 + (0.01 * ((x * x) + (y * y))) + (0.5 * gap),
                    factors: [(Factor.OffsetX, x), (Factor.OffsetY, y), (Factor.Gap, gap)]);
            }
        }

        var m = PlacedRuns.Find(0.05, runs)!.Methods[0];
        Assert.Equal(9, m.Positions.Count);
        Assert.Contains(m.Notes, n => n.Contains("gap 3 mm", StringComparison.Ordinal)
            && n.Contains("5 with other settings", StringComparison.Ordinal));
        Assert.Equal(0.5, m.Model!.Terms.Single(t => t.Id == "gap").Coefficient.Value, 6);
    }

    [Fact]
    public void Runs_that_say_less_than_the_others_are_left_out_and_counted()
    {
        var runs = new PlacedRuns("pad").At(PlacedRuns.Cross, (_, _) => 10).Add(99, factors: [(Factor.OffsetX, 4)]).Add(98)
            .Add(97, excluded: "the mains failed", factors: [(Factor.OffsetX, 0), (Factor.OffsetY, 0)]);
        var m = PlacedRuns.Find(0.05, runs)!.Methods[0];
        Assert.Equal(9, m.Runs.Count);
        Assert.Equal(2, m.Notes.Count(n => n.StartsWith("1 run of pad is left out here", StringComparison.Ordinal)));
    }

    [Fact]
    public void Lack_of_fit_is_seen_where_repeats_agree_and_the_model_does_not()
    {
        var random = new RandomSource(5);
        PlacedRuns Of(Func<double, double> energy)
        {
            var runs = new PlacedRuns("pad");
            foreach (double gap in new[] { 1.0, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6 })
            {
                runs.Add(energy(gap) + (0.01 * random.NextNormal()), factors: [(Factor.Gap, gap)]);
            }

            return runs;
        }

        Assert.True(PlacedRuns.Find(0.05, Of(g => 10 + g))!.Methods[0].Model!.LackOfFit!.Probability > LackOfFit.Clear);
        var bent = PlacedRuns.Find(0.05, Of(g => 10 + (g * g)))!.Methods[0].Model!.LackOfFit!;
        Assert.Equal((4, 6), (bent.ModelFreedom, bent.RepeatFreedom));
        Assert.True(bent.Probability < 0.001);
    }

    [Fact]
    public void Two_runs_give_no_model_and_say_so()
    {
        var m = PlacedRuns.Find(0.05, new PlacedRuns("pad").Add(10, factors: [(Factor.Gap, 3)])
            .Add(11, factors: [(Factor.Gap, 6)]))!.Methods[0];
        Assert.Null(m.Model);
        Assert.Contains("three runs", m.WhyNoModel, StringComparison.Ordinal);
        Assert.Equal(0, Assert.Single(m.Responses).Order);
    }
}
