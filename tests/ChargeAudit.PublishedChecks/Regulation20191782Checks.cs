using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Studies;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// Commission Regulation (EU) 2019/1782, Annex II: external power supplies (public table of the annex at legislation.gov.uk, eur/2019/1782;
/// the headings of its columns are from memory and fit the values). The values were worked out from the formulas apart from this program.
/// </summary>
public class Regulation20191782Checks
{
    // Tolerance: half a unit of the fourth decimal, which the values were noted with.
    [Theory]
    [InlineData(1, 0.6600, 0.6040, 0.5640)] // at exactly 1 W the first branch applies: not 0.6686
    [InlineData(5, 0.7773, 0.7362, 0.6817)]
    [InlineData(10, 0.8195, 0.7870, 0.7337)]
    [InlineData(15, 0.8413, 0.8139, 0.7641)]
    [InlineData(20, 0.8547, 0.8308, 0.7857)]
    [InlineData(45, 0.8773, 0.8635, 0.8465)]
    [InlineData(65, 0.880, 0.870, 0.860)]
    public void Average_active_efficiency(double outputW, double basic, double low, double multiple)
    {
        Assert.Equal(basic, Efficiency(SupplyKind.AcDc, outputW), 5.1e-5);
        Assert.Equal(basic, Efficiency(SupplyKind.AcAc, outputW), 5.1e-5);
        Assert.Equal(low, Efficiency(SupplyKind.LowVoltage, outputW), 5.1e-5);
        Assert.Equal(multiple, Efficiency(SupplyKind.MultipleVoltage, outputW), 5.1e-5);
    }

    [Fact]
    public void The_formula_jumps_above_49_W()
    {
        Assert.Equal(0.8777, Efficiency(SupplyKind.AcDc, 49), 5.1e-5);
        Assert.Equal(0.880, Efficiency(SupplyKind.AcDc, 49.001), 1e-12);
    }

    [Theory]
    [InlineData(SupplyKind.AcAc, 0.21, 0.21)]
    [InlineData(SupplyKind.AcDc, 0.10, 0.21)]
    [InlineData(SupplyKind.LowVoltage, 0.10, 0.21)]
    [InlineData(SupplyKind.MultipleVoltage, 0.30, 0.30)]
    public void No_load_power_up_to_49_W_and_above(SupplyKind kind, double upTo49, double above)
    {
        string id = $"eu-2019-1782/{EuYardsticks.Key(kind)}/no-load";
        Assert.Equal(upTo49, Yardsticks.At(id, 49)!.LimitAt(49)!.Value, 1e-12);
        Assert.Equal(above, Yardsticks.At(id, 49.5)!.LimitAt(49.5)!.Value, 1e-12);
    }

    [Fact]
    public void It_ends_when_regulation_2025_2052_applies()
    {
        // Regulation (EU) 2025/2052: applies from 14 December 2028 and repeals 2019/1782 then; its annexes were not read, so no limit is
        // given.
        string id = "eu-2019-1782/ac-dc/no-load";
        Assert.NotNull(Yardsticks.At(id, 20, new DateOnly(2028, 12, 13)));
        Assert.Null(Yardsticks.At(id, 20, new DateOnly(2028, 12, 14)));
        var next = Yardsticks.At("eu-2025-2052/wireless-standby", 0)!;
        Assert.Equal(new DateOnly(2028, 12, 14), next.AppliesFrom);
        Assert.Null(next.LimitAt(0));
    }

    private static double Efficiency(SupplyKind kind, double outputW) =>
        Yardsticks.At($"eu-2019-1782/{EuYardsticks.Key(kind)}/efficiency", outputW)!.LimitAt(outputW)!.Value;
}
