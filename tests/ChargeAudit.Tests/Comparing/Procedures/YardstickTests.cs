using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Procedures;

public class YardstickTests
{
    private static readonly DateOnly Day = new(2026, 11, 1);

    private static PointResult Wall(double noLoadW, double u) => new(
        Figure.None("-"), [], 0, Figure.None("-"), Figure.Of(Measured.From(noLoadW, "W", [new UncertaintyComponent(new InfluenceSource("g"), u)])));

    private static readonly AdapterInfo Plate = new() { OutputW = 20, Kind = SupplyKind.AcDc };

    [Theory]
    [InlineData(0.05, 0.01, Standing.Inside)]
    [InlineData(0.15, 0.01, Standing.Beyond)]
    [InlineData(0.10, 0.01, Standing.CannotTell)]
    public void An_adapter_alone_stands_beside_the_no_load_limit_interval_and_all(double noLoadW, double u, Standing standing)
    {
        var found = EuYardsticks.Of(MethodKind.Wired, Wall(noLoadW, u), Plate, Figure.None("not measured at four loads"), Day);
        var noLoad = found.Single(f => f.Yardstick.Id == "eu-2019-1782/ac-dc/no-load");
        Assert.Equal(0.10, noLoad.Limit);
        Assert.Equal(standing, noLoad.Standing);
        Assert.Contains("applies from 2020-04-01 until 2028-12-14", noLoad.Text, StringComparison.Ordinal);
        Assert.EndsWith("For information, not a certificate.", noLoad.Text, StringComparison.Ordinal);
        Assert.Equal(Standing.NotCompared, found.Single(f => f.Yardstick.Id == "eu-2019-1782/ac-dc/efficiency").Standing);
    }

    [Fact]
    public void The_wall_power_of_a_waiting_pad_is_never_held_against_the_adapters_limit()
    {
        var found = EuYardsticks.Of(MethodKind.Inductive, Wall(0.3, 0.001), Plate, Figure.None("not measured at four loads"), Day);
        var noLoad = found.Single(f => f.Yardstick.Id == "eu-2019-1782/ac-dc/no-load");
        Assert.Equal(Standing.NotCompared, noLoad.Standing);
        Assert.Null(noLoad.Value.Value);
        Assert.Contains("adapter and pad together", noLoad.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Later_rules_are_named_for_a_pad_with_no_invented_limit()
    {
        var found = EuYardsticks.Of(MethodKind.Inductive, Wall(0.3, 0.001), null, Figure.None("-"), Day);
        var next = found.Single(f => f.Yardstick.Id == "eu-2025-2052/wireless-standby");
        Assert.Null(next.Limit);
        Assert.Equal(Standing.NotCompared, next.Standing);
        Assert.Contains("limit not known to this program", next.Text, StringComparison.Ordinal);
        Assert.Contains("2028-12-14", next.Text, StringComparison.Ordinal);
        var now = found.Single(f => f.Yardstick.Id == "eu-2023-826/standby");
        Assert.Equal(Standing.NotCompared, now.Standing);
        Assert.Contains("not in the list", now.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_row_has_a_source_a_date_and_a_mark_and_the_branches_of_a_rule_do_not_overlap()
    {
        Assert.All(Yardsticks.All, y =>
        {
            Assert.NotEmpty(y.Source);
            Assert.NotEmpty(y.Rule);
            Assert.NotEmpty(y.Note);
            Assert.InRange(y.AppliesFrom, new DateOnly(2013, 1, 1), new DateOnly(2030, 1, 1));
        });
        foreach (var rule in Yardsticks.All.GroupBy(y => y.Id).Where(g => g.First().Variable is not null))
        {
            foreach (double x in new[] { 0.5, 1, 1.5, 9.99, 10, 49, 49.5, 200 })
            {
                Assert.True(rule.Count(y => y.Holds(x)) == 1, $"{rule.Key} at {x}");
            }
        }
    }
}
