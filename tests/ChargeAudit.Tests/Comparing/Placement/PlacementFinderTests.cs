using ChargeAudit.Comparing.Placement;
using ChargeAudit.Logs;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Placement;

public sealed class PlacementFinderTests
{
    // 10 Wh at (1, -0.5), 5 % more at 5 mm from there.
    private static double Bowl(double x, double y) => 10 * (1 + (0.05 * (Square(x - 1) + Square(y + 0.5)) / 25));

    [Fact]
    public void Without_factors_there_is_nothing() => Assert.Null(PlacedRuns.Find(0.05, new PlacedRuns("pad").Add(10).Add(10.1)));

    [Fact]
    public void A_bowl_without_scatter_gives_its_bottom_and_its_tolerance()
    {
        var m = PlacedRuns.Find(0.05, new PlacedRuns("pad").At(PlacedRuns.Cross, Bowl))!.Methods[0];
        Assert.Equal(new PlacementFigure(MeasuringPoint.Usb, null), m.Figure);
        Assert.True(m.Tolerance!.Fitted);
        Assert.Equal(1, m.Tolerance.BestXMm!.Value, 6);
        Assert.Equal(-0.5, m.Tolerance.BestYMm!.Value, 6);
        Assert.Equal(5, m.Tolerance.OffsetMm!.Value, 6);
        Assert.True(m.Tolerance.LowMm < 5 && m.Tolerance.HighMm > 5);
        Assert.All(m.Tolerance.Curve, c => Assert.Equal(0.05 * c.OffsetMm * c.OffsetMm / 25, c.Rise, 1e-9));
        Assert.Equal(m.Tolerance.MeasuredToMm, m.Tolerance.Curve[^1].OffsetMm, 1e-9);
        Assert.Equal(["constant", "offset-x", "offset-y", "distance-squared"], m.Model!.Terms.Select(t => t.Id));
        Assert.Equal(10 * 0.05 / 25, m.Model.Terms[3].Coefficient.Value, 9);
        Assert.Contains("5 % more at 5.0 mm", m.Tolerance.Sentence("pad"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_rise_that_lies_beyond_the_measured_offsets_is_not_told()
    {
        var m = PlacedRuns.Find(0.30, new PlacedRuns("pad").At(PlacedRuns.Cross, Bowl))!.Methods[0];
        Assert.Null(m.Tolerance!.OffsetMm);
        Assert.Null(m.Tolerance.HighMm);
        Assert.Equal(Math.Sqrt(Square(9) + 0.25), m.Tolerance.MeasuredToMm, 6);
        Assert.Contains("not reached within the measured offsets", m.Tolerance.Sentence("pad"), StringComparison.Ordinal);
    }

    [Fact]
    public void The_interval_of_the_tolerance_holds_the_truth_about_as_often_as_it_says()
    {
        const int trials = 400;
        var random = new RandomSource(20260411);
        int held = Enumerable.Range(0, trials).Count(_ =>
        {
            var t = PlacedRuns.Find(0.05, new PlacedRuns("pad")
                .At([.. PlacedRuns.Cross, .. PlacedRuns.Cross], Bowl, () => 0.005 * random.NextNormal()))!.Methods[0].Tolerance!;
            return t.LowMm <= 5 && (t.HighMm ?? double.PositiveInfinity) >= 5;
        });

        // 95 % of 400 trials: 380, standard deviation 4.4; four of them either way.
        Assert.InRange(held, 362, 398);
    }

    [Fact]
    public void The_intervals_of_positions_and_coefficients_hold_the_truth_about_as_often_as_they_say()
    {
        const int trials = 150;
        var random = new RandomSource(20260412);
        int positions = 0, heldPositions = 0, coefficients = 0;
        for (int i = 0; i < trials; i++)
        {
            // One gain error of the meter for all runs, a scatter of each run.
            double gain = 1 + (0.002 * random.NextNormal());
            var m = PlacedRuns.Find(0.05, new PlacedRuns("pad").At(
                [.. PlacedRuns.Cross, .. PlacedRuns.Cross, .. PlacedRuns.Cross], (x, y) => gain * Bowl(x, y), () =>
                    0.004 * random.NextNormal()))!.Methods[0];
            positions += m.Positions.Count;
            heldPositions += m.Positions.Count(p => p.Shown.Interval() is { } k && k.Low <= Bowl(p.XMm, p.YMm)
                && k.High >= Bowl(p.XMm, p.YMm));
            coefficients += m.Model!.Terms.Single(t => t.Id == "distance-squared").Coefficient.Interval() is { } c && c.Low <= 0.02
                && c.High >= 0.02 ? 1 : 0;
        }

        // The positions of one trial share the meter's gain, so they count as fewer than 1350: between 92 and 98 %.
        Assert.InRange((double)heldPositions / positions, 0.92, 0.98);

        // 95 % of 150: 142.5, standard deviation 2.7; the term of fourth power is included in one trial of twenty and widens its interval.
        Assert.InRange(coefficients, 132, 150);
    }

    [Fact]
    public void With_both_points_measured_the_map_shows_the_efficiency_and_stops_at_its_hull()
    {
        var m = PlacedRuns.Find(0.05, new PlacedRuns("pad").At(PlacedRuns.Cross, Bowl, outWh: 7))!.Methods[0];
        Assert.Equal(MeasuringPoint.Device, m.Figure.To);
        Assert.Equal(7 / Bowl(4, 0), m.Map!.At(4, 0)!.Value, 9);
        Assert.Equal((7 / Bowl(4, 0) + (7 / Bowl(0, 0))) / 2, m.Map.At(2, 0)!.Value, 9);
        Assert.NotNull(m.Map.At(2, 0)!.Interval());
        Assert.Null(m.Map.At(8, 1));
        Assert.Equal(4, m.Map.Hull.Count);
    }

    [Fact]
    public void A_position_that_was_measured_twice_is_one_point_with_its_mean()
    {
        var runs = new PlacedRuns("pad").At([.. PlacedRuns.Cross, (0, 0)], Bowl);
        var m = PlacedRuns.Find(0.05, runs.Add(20, factors: [(Factor.OffsetX, 0), (Factor.OffsetY, -0.0)]))!.Methods[0];
        var middle = m.Positions.Single(p => p.XMm == 0 && p.YMm == 0);
        Assert.Equal(["pad-1", "pad-10", "pad-11"], middle.Runs);
        Assert.Equal((Bowl(0, 0) * 2 + 20) / 3, middle.Shown.Value, 9);
        Assert.True(middle.Shown.StandardUncertainty > 1);
    }

    [Theory]
    [InlineData(1, "there is one")]
    [InlineData(2, "there are two")]
    public void Fewer_than_three_positions_give_a_sentence_and_no_map(int count, string mentions)
    {
        var m = PlacedRuns.Find(0.05, new PlacedRuns("pad").At(PlacedRuns.Cross[..count], Bowl).At([(0, 0)], Bowl))!.Methods[0];
        Assert.Null(m.Map);
        Assert.Contains(mentions, m.WhyNoMap, StringComparison.Ordinal);
        Assert.Equal(count, m.Positions.Count);
    }

    [Fact]
    public void Positions_on_a_line_give_a_curve_and_a_tolerance_and_no_map()
    {
        var m = PlacedRuns.Find(0.05, new PlacedRuns("pad")
            .At([(-6, 0), (-3, 0), (0, 0), (3, 0), (6, 0), (9, 0)], (x, _) => Bowl(x, -0.5)))!.Methods[0];
        Assert.Null(m.Map);
        Assert.Contains("one line", m.WhyNoMap, StringComparison.Ordinal);
        Assert.Null(m.Tolerance!.BestYMm);
        Assert.Equal(1, m.Tolerance.BestXMm!.Value, 6);
        Assert.Equal(5, m.Tolerance.OffsetMm!.Value, 6);
        var curve = Assert.Single(m.Responses);
        Assert.Equal((Factor.OffsetX, 2, 6), (curve.Factor, curve.Order, curve.Levels.Count));
    }

    [Fact]
    public void Where_the_energy_only_rises_one_way_the_best_measured_position_is_the_start()
    {
        // 2 % a millimetre, from 0 to 4: no bottom inside.
        var m = PlacedRuns.Find(0.05, new PlacedRuns("pad")
            .At([(0, 0), (1, 0), (2, 0), (3, 0), (4, 0)], (x, _) => 10 + (0.2 * x)))!.Methods[0];
        Assert.False(m.Tolerance!.Fitted);
        Assert.Equal((0.0, 2.5), (m.Tolerance.BestXMm, Math.Round(m.Tolerance.OffsetMm!.Value, 6)));
    }

    [Fact]
    public void A_steeper_rise_is_followed_by_the_fourth_power()
    {
        static double Steep(double x, double y) => 10 * (1 + (0.0001 * Square(Square(x) + Square(y))));
        var m = PlacedRuns.Find(0.05, new PlacedRuns("pad")
            .At([.. PlacedRuns.Cross, (2, 2), (-2, 2), (5, 5), (-5, -5)], Steep))!.Methods[0];
        Assert.Contains("distance-fourth", m.Model!.Terms.Select(t => t.Id));
        Assert.Equal(Math.Pow(500, 0.25), m.Tolerance!.OffsetMm!.Value, 4);
    }

    [Fact]
    public void What_one_meter_did_to_two_designs_cancels_in_their_difference()
    {
        var result = PlacedRuns.Find(0.05, new PlacedRuns("a").At(PlacedRuns.Cross, Bowl), new PlacedRuns("b")
            .At([(0, 0), (3, 0), (0, 3), (12, 12)], (x, y) => 1.1 * Bowl(x, y)))!;
        var difference = Assert.Single(result.Differences);
        Assert.Equal(("a", "b"), (difference.First, difference.Second));

        // (12, 12) lies outside a's hull, (8, 0) outside b's.
        Assert.DoesNotContain(difference.Positions, p => p.XMm is 12 or 8);
        Assert.Contains(difference.Positions, p => (p.XMm, p.YMm) == (3, 0));
        var middle = difference.Positions.Single(p => (p.XMm, p.YMm) == (0, 0));
        Assert.Equal(0.1 * Bowl(0, 0), middle.Difference.Value, 9);
        Assert.Equal(0.002 * 0.1 * Bowl(0, 0),
            Math.Abs(middle.Difference.Components.Single(c => c.Source.Shared).SignedStandardUncertainty), 9);
    }

    [Fact]
    public void Methods_measured_at_other_points_are_not_subtracted()
    {
        var result = PlacedRuns.Find(0.05, new PlacedRuns("a").At(PlacedRuns.Cross, Bowl), new PlacedRuns("b")
            .At(PlacedRuns.Cross, Bowl, outWh: 7))!;
        Assert.Contains("not measured at the same points", result.Differences[0].WhyNone, StringComparison.Ordinal);
    }

    [Fact]
    public void The_wired_reference_stands_beside_each_position()
    {
        var cable = new PlacedRuns("cable", MethodKind.Wired).Add(5).Add(5);
        var m = PlacedRuns.Find(0.05, cable, new PlacedRuns("pad").At(PlacedRuns.Cross, Bowl))!.Methods[0];
        Assert.Equal("pad", m.Method);
        Assert.All(m.Positions, p => Assert.Equal(Bowl(p.XMm, p.YMm) / 5, p.ToReference!.Value, 9));
        Assert.Single(m.Positions, p => p.ToBest is null);
    }

    private static double Square(double v) => v * v;
}
