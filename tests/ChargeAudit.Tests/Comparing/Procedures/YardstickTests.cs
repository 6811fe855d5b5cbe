using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Procedures;

public class YardstickTests
{
    private static readonly DateOnly Day = new(2026, 11, 1);

    private static PointResult Wall(double noLoadW, double u) => new(
        Figure.None("-"), [], 0, Figure.None("-"),
            Figure.Of(Measured.From(noLoadW, "W", [new UncertaintyComponent(new InfluenceSource("g"), u)])));

    private static readonly AdapterInfo Plate = new() { OutputW = 20, Kind = SupplyKind.AcDc };

    [Theory]
    [InlineData(0.05, 0.01, Standing.Inside)]
    [InlineData(0.15, 0.01, Standing.Beyond)]
    [InlineData(0.10, 0.01, Standing.CannotTell)]
    public void An_adapter_alone_stands_beside_the_no_load_limit_interval_and_all(double noLoadW, double u, Standing standing)
    {
        var found = EuYardsticks.Of(MethodKind.Wired, Wall(noLoadW, u), null, Plate, Figure.None("not measured at four loads"), Day);
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
        var found = EuYardsticks.Of(MethodKind.Inductive, Wall(0.3, 0.001), null, Plate, Figure.None("not measured at four loads"), Day);
        var noLoad = found.Single(f => f.Yardstick.Id == "eu-2019-1782/ac-dc/no-load");
        Assert.Equal(Standing.NotCompared, noLoad.Standing);
        Assert.Null(noLoad.Value.Value);
        Assert.Contains("adapter and pad together", noLoad.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Later_rules_are_named_for_a_pad_with_no_invented_limit()
    {
        var found = EuYardsticks.Of(MethodKind.Inductive, Wall(0.3, 0.001), Wall(0.12, 0.001), null, Figure.None("-"), Day);
        var next = found.Single(f => f.Yardstick.Id == "eu-2025-2052/wireless-standby");
        Assert.Null(next.Limit);
        Assert.Equal(Standing.NotCompared, next.Standing);
        Assert.Equal(0.12, next.Value.Value!.Value);
        Assert.Contains("limit not known to this program", next.Text, StringComparison.Ordinal);
        Assert.Contains("2028-12-14", next.Text, StringComparison.Ordinal);
        var now = found.Single(f => f.Yardstick.Id == "eu-2023-826/standby");
        Assert.Equal(Standing.NotCompared, now.Standing);
        Assert.Contains("not in the list", now.Text, StringComparison.Ordinal);
    }

    // Regulation (EU) 2025/2052, article 2(6): a pad contains no power supply.
    [Fact]
    public void The_wall_power_of_a_waiting_pad_never_stands_beside_the_rule_for_pads()
    {
        var found = EuYardsticks.Of(MethodKind.Inductive, Wall(0.3, 0.001), null, null, Figure.None("-"), Day);
        var next = found.Single(f => f.Yardstick.Id == "eu-2025-2052/wireless-standby");
        Assert.Null(next.Value.Value);
        Assert.Contains("adapter and pad together", next.Value.WhyNot, StringComparison.Ordinal);
    }

    // Regulation (EU) 2019/1782, article 2(3): multiple is more than one simultaneous output. At 20 W the two kinds differ by 0.3 W for 0.1
    // W.
    [Theory]
    [InlineData(SupplyKind.MultipleVoltage, null, true, 0.3)]
    [InlineData(SupplyKind.MultipleVoltage, 1, true, 0.3)]
    [InlineData(SupplyKind.MultipleVoltage, 2, false, 0.3)]
    [InlineData(SupplyKind.AcDc, null, false, 0.1)]
    [InlineData(SupplyKind.LowVoltage, 1, false, 0.1)]
    public void An_adapter_called_multiple_is_doubted_unless_its_outputs_are_counted(SupplyKind kind, int? outputs, bool doubted,
        double limitW)
    {
        var found = EuYardsticks.Of(MethodKind.Wired, Wall(0.05, 0.001), null,
            new AdapterInfo { OutputW = 20, Kind = kind, Outputs = outputs }, Figure.None("-"), Day);
        Assert.Equal(limitW, found[0].Limit!.Value, 1e-12);
        Assert.All(found, f => Assert.Equal(doubted, f.Doubt is not null));
        Assert.All(found, f => Assert.Equal(doubted, f.Text.Contains("outputs = 2", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_limit_that_moves_with_the_measured_variable_counts_what_they_share_once()
    {
        // Class 2: limit 0.144·E + 2.95. With a figure 5.534 − 0.1·E at E = 11 ± 1 the figure is 4.434, 0.1 below the limit; both move by
        // 0.244 to 1 Wh.
        var limit = Yardsticks.At("us-430-32-z/class-2", 11)!;
        Measured E(double u) => Measured.From(11, "Wh", [new UncertaintyComponent(new InfluenceSource("battery"), u)]);
        Standing Of(double u) =>
            Yardsticks.Compare(limit, 11, Figure.Of(Measured.Combine(4.434, "kWh/a", (-0.1, E(u)))), null, E(u)).Standing;
        Assert.Equal(Standing.Inside, Of(0.1)); // 1.96 · 0.0244 = 0.048
        Assert.Equal(Standing.CannotTell, Of(0.3)); // 1.96 · 0.0732 = 0.143; by the figure alone 0.059
    }

    [Fact]
    public void Every_limit_says_when_it_was_last_read() =>
        Assert.All(Yardsticks.All, y =>
            Assert.Contains(y.ReadOn is { } day ? $"last read {day:yyyy-MM-dd}" : "from memory", y.SourceLine(), StringComparison.Ordinal));

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
