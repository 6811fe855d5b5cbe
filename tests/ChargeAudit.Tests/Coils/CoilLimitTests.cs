using ChargeAudit.Coils;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Coils;

public sealed class CoilLimitTests
{
    private static readonly CoilLink NineTenths = new()
    {
        PrimaryH = 24e-6,
        SecondaryH = 12e-6,
        Coupling = 0.3,
        PrimaryQ = 100,
        SecondaryQ = 40,
        FrequencyHz = 127.7e3,
    };

    [Fact]
    public void The_two_parts_are_the_whole_loss()
    {
        CoilLimit limit = CoilLimit.Split(Measured.Exact(25, "Wh"), Measured.Exact(18, "Wh"), NineTenths);
        Assert.Equal(0.72, limit.MeasuredEfficiency.Value, 1e-12);
        // At 0.9 the coils alone need 20 Wh for 18 Wh: 2 Wh are theirs, 5 Wh the rest.
        Assert.Equal(2, limit.CoilLoss.Value, 1e-12);
        Assert.Equal(5, limit.Rest.Value, 1e-12);
        Assert.False(limit.Contradicts);
        Assert.Equal("Of 7 Wh lost, 2 Wh are set by coupling and coil quality; 5 Wh are the rest.", limit.ToString());
    }

    [Fact]
    public void A_pad_better_than_its_coils_is_called_a_contradiction()
    {
        CoilLimit limit = CoilLimit.Split(Measured.Exact(19, "Wh"), Measured.Exact(18, "Wh"), NineTenths);
        Assert.True(limit.Contradicts);
        Assert.Contains("the coil data or a log is wrong", limit.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_uncertainty_of_both_energies_enters_the_rest()
    {
        // One and the same gain error of both energies: 1 % of each, fully shared.
        InfluenceSource gain = new("meter:bench/gain");
        Measured input = Measured.From(25, "Wh", [new UncertaintyComponent(gain, 0.25)]);
        Measured output = Measured.From(18, "Wh", [new UncertaintyComponent(gain, 0.18)]);
        CoilLimit limit = CoilLimit.Split(input, output, NineTenths);
        Assert.Equal(0.05, limit.Rest.StandardUncertainty!.Value, 1e-12);
        Assert.Equal(0, limit.MeasuredEfficiency.StandardUncertainty!.Value, 1e-12);
    }
}
