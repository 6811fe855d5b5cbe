using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>JCGM 100:2008, 5.2.2, applied to an energy summed from samples and to a ratio of two energies; numbers worked out elsewhere
/// from the formula.</summary>
public sealed class EnergyPropagationChecks
{
    [Fact]
    public void Gain_does_not_average_away_and_noise_does()
    {
        // 3600 samples of 1 s at 10 W: 10 Wh. Gain u 0.5 %, fully correlated: 0.05 Wh. White noise u 0.05 W: √N·u·Δt = 0.00083333 Wh.
        double noise = Math.Sqrt(3600) * 0.05 / 3600;
        var energy =
            Measured.From(10, "Wh",
            [new(new InfluenceSource("meter:bench/power-gain", Shared: true), 0.005 * 10), new(new InfluenceSource("log:1/noise"), noise)]);
        Assert.Equal(0.00083333, noise, 5e-9);
        Assert.Equal(0.05000694, energy.StandardUncertainty!.Value, 5e-9);

        // With ρ = 0.9 the noise is 4.358899 times as much.
        Assert.Equal(0.00363242, noise * Autocorrelation.InflationFactor(0.9), 5e-9);
    }

    [Fact]
    public void A_data_sheet_of_one_percent_is_a_rectangle()
    {
        // JCGM 100:2008, 4.3.7: limits ±a give u = a/√3. 1 % of 10 Wh: 0.1/√3 = 0.0577350 Wh.
        Assert.True(MeterAccuracy.TryParse("1 %", LogQuantity.Power, out var accuracy, out _));
        var errors = MeterError.ForEnergy(
            "bench", new Dictionary<LogQuantity, MeterAccuracy> { [LogQuantity.Power] = accuracy },
            new EnergySensitivities { EnergyJ = 36_000, DurationS = 3600, LogId = "1" }, PowerBasis.PowerColumn);
        var gain = Assert.Single(errors.Components);
        Assert.Equal(SourceKind.MeterGain, gain.Source.Kind);
        Assert.Equal(0.0577350, gain.SignedStandardUncertainty / 3600, 5e-8);
    }

    [Theory]
    [InlineData(0.0, 0.0106603)]
    [InlineData(0.5, 0.0075382)]
    [InlineData(1.0, 0.0000758)]
    public void What_two_energies_share_cancels_in_their_ratio(double correlation, double expected)
    {
        // 19.8 Wh (u 0.10) by 13.2 Wh (u 0.066).
        var both = CorrelatedInputs.Of("meter", [(19.8, 0.10, "Wh"), (13.2, 0.066, "Wh")],
            new double[,] { { 1, correlation }, { correlation, 1 } });
        var ratio = Measured.Quotient(both[0], both[1]);
        Assert.Equal(1.5, ratio.Value, 1e-12);
        Assert.Equal(expected, ratio.StandardUncertainty!.Value, 5.1e-8);
    }
}
