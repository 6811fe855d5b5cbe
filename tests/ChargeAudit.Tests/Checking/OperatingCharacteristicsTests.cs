namespace ChargeAudit.Tests.Checking;

/// <summary>The short form of the table in docs/check.md.</summary>
public sealed class OperatingCharacteristicsTests
{
    private const int Pairs = 600;
    private const ulong Seed = 20_261;

    // A share of 5 % out of 600 has a standard error of 0.9 %; three of those are allowed above α.
    private const double MostWrong = 0.05 + (3 * 0.0089);

    [Theory]
    [InlineData(3, 0.005)]
    [InlineData(5, 0.01)]
    [InlineData(10, 0.01)]
    public void On_the_margin_a_wrong_pass_and_a_wrong_fail_are_as_rare_as_promised(int runs, double scatter)
    {
        var shares = OperatingCharacteristics.Simulate(new PairsOfDesigns(1.02, runs, scatter, 0.02), Pairs, Seed);
        Assert.InRange(shares.Pass, 0.005, MostWrong);
        Assert.InRange(shares.Fail, 0.005, MostWrong);
    }

    [Fact]
    public void Three_figures_on_their_margins_fail_no_more_often_than_one()
    {
        var shares = OperatingCharacteristics.Simulate(new PairsOfDesigns(1.02, 5, 0.01, 0.02, Figures: 3), Pairs, Seed);
        Assert.InRange(shares.Fail, 0.005, MostWrong);
        Assert.InRange(shares.Pass, 0, MostWrong);
    }

    [Fact]
    public void Far_from_the_margin_the_verdict_is_nearly_always_right()
    {
        Assert.True(OperatingCharacteristics.Simulate(new PairsOfDesigns(0.98, 5, 0.01, 0.02), 200, Seed).Pass > 0.95);
        Assert.True(OperatingCharacteristics.Simulate(new PairsOfDesigns(1.06, 5, 0.01, 0.02), 200, Seed).Fail > 0.95);
    }

    [Fact]
    public void A_meter_ten_times_as_uncertain_as_the_margin_does_no_harm_where_it_is_the_same_for_both()
    {
        var shares = OperatingCharacteristics.Simulate(new PairsOfDesigns(1.0, 5, 0.005, 0.02, Gain: 0.2), 25, Seed);
        Assert.True(shares.Pass > 0.8);
    }

    // What measuring costs: shares of right verdicts, divided by those of a check that knows each run's energy exactly; same scatter.
    [Theory]
    [InlineData(1, 0.95)]
    [InlineData(30, 0.90)]
    public void Logs_cost_little_of_the_power_and_no_wrong_verdicts(double intervalS, double least)
    {
        var logs = MeasuredCharges.Of(intervalS, 40, Seed);
        Assert.True(logs.Found.Count >= 38);
        double power = 0, exact = 0;
        foreach (double ratio in new[] { 1.0, 1.04 })
        {
            var what = new PairsOfDesigns(ratio, 5, 0.01, 0.02);
            var (seen, known) =
                (OperatingCharacteristics.Simulate(what with { Measured = logs }, 300, Seed),
                OperatingCharacteristics.Simulate(what, 300, Seed));
            power += ratio < 1.02 ? seen.Pass : seen.Fail;
            exact += ratio < 1.02 ? known.Pass : known.Fail;
        }

        Assert.True(power >= least * exact, $"{power / exact:0.000}");
        var border = OperatingCharacteristics.Simulate(new PairsOfDesigns(1.02, 5, 0.01, 0.02) { Measured = logs }, Pairs, Seed);
        Assert.InRange(border.Pass, 0.005, MostWrong);
        Assert.InRange(border.Fail, 0.005, MostWrong);
    }
}
