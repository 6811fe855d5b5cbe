namespace ChargeAudit.Tests.Metrology.Coverage;

public class BlockCoverageTests
{
    public static TheoryData<int, int, double> Cases => new(
        from days in new[] { 1, 2, 3 } from runs in new[] { 1, 3, 5 } from between in new[] { 0.0, 3 } where days > 1
            || runs > 1 select (days, runs, between));

    // 800 studies a case: 93 % less two and a half binomial standard deviations of 0.9 %.
    [Theory]
    [MemberData(nameof(Cases))]
    public void Intervals_of_runs_on_days_hold_the_truth(int days, int runs, double between)
    {
        var result = BlockCoverage.Run(new BlockCase(days, runs, between), 800, 100 + (100 * days) + (10 * runs) + (int)between);
        Assert.InRange(result.EnergyHeld, 0.908, 1);
        Assert.InRange(result.RatioHeld, 0.908, 1);
    }

    // What it is for: two days of five runs that differ three times as much as runs of a day do, taken for ten independent runs.
    [Fact]
    public void Runs_of_few_days_taken_for_independent_ones_miss_the_truth()
    {
        Assert.InRange(BlockCoverage.Run(new BlockCase(2, 5, 3), 400, 7).HeldWithoutDays, 0, 0.8);
    }
}
