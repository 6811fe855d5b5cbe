using System.Numerics;
using ChargeAudit.Coils;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.PublishedChecks;

/// <summary>Facts of the trade about coils; common practice, no source.</summary>
public sealed class CoilFactsOfTheTrade
{
    /// <summary>1.1 mH with 100 nF resonates at 15.2 kHz (common practice, no source; three digits).</summary>
    [Fact]
    public void Resonance_of_a_millihenry_coil()
    {
        Assert.True(ValueText.TryParse("1.1mH", "H", out double inductanceH));
        Assert.True(ValueText.TryParse("100 nF", "F", out double capacitanceF));
        double frequencyHz = Resonance.FrequencyHz(inductanceH, capacitanceF);
        Assert.Equal(15.2e3, frequencyHz, 0.05e3);
        Assert.Equal("15.2 kHz", SiValue.Format(frequencyHz, "Hz", 3));
    }

    /// <summary>With no load a tightly coupled transformer's input current lags by nearly 90° (common practice, no source).</summary>
    [Fact]
    public void Unloaded_the_input_current_lags_by_nearly_a_quarter_period() =>
        Assert.InRange(CompensatedLink.Uncompensated(Tight()).InputPhaseDegrees(1000, double.PositiveInfinity), 85, 90);

    /// <summary>Shorted it lags by nearly nothing, where copper resistance rules over the leakage reactance (common practice, no
    /// source).</summary>
    [Fact]
    public void Shorted_the_phase_is_near_zero_where_copper_rules_the_leakage()
    {
        CoilLink tight = Tight();
        double leakageOhm = tight.Omega * tight.PrimaryH * (1 - (tight.Coupling * tight.Coupling));
        Assert.True(leakageOhm < 0.1 * tight.PrimaryOhm, "the case is one in which copper rules");
        Assert.InRange(CompensatedLink.Uncompensated(tight).InputPhaseDegrees(1000, 0), 0, 5);
    }

    /// <summary>Where leakage rules, a short lags by nearly 90° too: the phase alone does not tell them apart (common practice, no
    /// source).</summary>
    [Fact]
    public void Shorted_at_loose_coupling_the_phase_is_near_a_quarter_period() =>
        Assert.InRange(CompensatedLink.Uncompensated(Loose()).InputPhaseDegrees(127.7e3, 0), 85, 90);

    /// <summary>At loose coupling the leakage takes most of the voltage; series capacitors at resonance give it back (common practice, no
    /// source).</summary>
    [Fact]
    public void Leakage_takes_the_voltage_and_series_capacitors_give_it_back()
    {
        CoilLink loose = Loose();
        const double Load = 6;
        double plain = CompensatedLink.Uncompensated(loose).VoltageTransfer(127.7e3, Load).Magnitude;
        double noLoad = CompensatedLink.Uncompensated(loose).VoltageTransfer(127.7e3, double.PositiveInfinity).Magnitude;
        double compensated = CompensatedLink.SeriesSeries(loose).VoltageTransfer(127.7e3, Load).Magnitude;
        Assert.True(noLoad < 0.25, "already with no load only k·√(L₂/L₁) of it arrives");
        Assert.True(plain < 0.6 * noLoad, "and under load the leakage takes most of that");
        Assert.True(compensated > 5 * plain, "capacitors at resonance give it back");
    }

    /// <summary>Uncompensated, with no load and no copper, the transfer is k·√(L₂/L₁) (standard circuit theory).</summary>
    [Fact]
    public void Transfer_of_an_unloaded_pair()
    {
        CoilLink ideal = Loose() with { PrimaryQ = 1e9, SecondaryQ = 1e9 };
        Complex transfer = CompensatedLink.Uncompensated(ideal).VoltageTransfer(127.7e3, double.PositiveInfinity);
        Assert.Equal(ideal.Coupling * Math.Sqrt(ideal.SecondaryH / ideal.PrimaryH), transfer.Magnitude, 1e-12);
    }

    /// <summary>A transformer on a closed core.</summary>
    private static CoilLink Tight() => new()
    {
        PrimaryH = 10e-3,
        SecondaryH = 10e-3,
        Coupling = 0.9998,
        PrimaryQ = 20,
        SecondaryQ = 20,
        FrequencyHz = 1000,
    };

    private static CoilLink Loose() => new()
    {
        PrimaryH = 24e-6,
        SecondaryH = 12e-6,
        Coupling = 0.25,
        PrimaryQ = 100,
        SecondaryQ = 40,
        FrequencyHz = 127.7e3,
    };
}
