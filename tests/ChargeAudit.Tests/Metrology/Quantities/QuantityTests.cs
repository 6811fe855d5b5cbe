using System.Globalization;
using ChargeAudit.Metrology.Quantities;
using CsCheck;

namespace ChargeAudit.Tests.Metrology.Quantities;

public sealed class QuantityTests
{
    [Fact]
    public void A_watt_hour_is_3600_joules()
    {
        Assert.Equal(3600, Energy.FromWattHours(1).Joules);
        Assert.Equal(3.6e6, Energy.FromKilowattHours(1).Joules);
        Assert.Equal(3.6, Energy.FromMilliwattHours(1).Joules);
        Assert.Equal(3600, ElectricCharge.FromAmpereHours(1).Coulombs);
        Assert.Equal(3.6, ElectricCharge.FromMilliampereHours(1).Coulombs);
    }

    [Fact]
    public void Power_over_time_is_energy_and_back()
    {
        Energy energy = Power.FromWatts(10) * TimeSpan.FromMinutes(90);
        Assert.Equal(15, energy.WattHours, 1e-12);
        Assert.Equal(10, (energy / TimeSpan.FromMinutes(90)).Watts, 1e-12);
        Assert.Equal(TimeSpan.FromMinutes(90), energy / Power.FromWatts(10));
        Assert.Equal(energy, TimeSpan.FromMinutes(90) * Power.FromWatts(10));
    }

    [Fact]
    public void Apparent_power_becomes_real_power_only_through_a_power_factor()
    {
        var apparent = ApparentPower.Of(Voltage.FromVolts(230), Current.FromMilliamperes(100));
        Assert.Equal(23, apparent.VoltAmperes, 1e-12);
        Assert.Equal(11.5, apparent.Times(0.5).Watts, 1e-12);
        Assert.Equal(0.5, apparent.PowerFactorOf(Power.FromWatts(11.5)), 1e-12);
        Assert.Throws<ArgumentOutOfRangeException>(() => apparent.Times(1.2));
        Assert.Throws<ArgumentOutOfRangeException>(() => apparent.Times(double.NaN));
    }

    [Fact]
    public void No_operator_multiplies_a_voltage_by_a_current()
    {
        var between = new[] { typeof(Voltage), typeof(Current) };
        var products = between.SelectMany(t => t.GetMethods()).Where(m => m.Name == "op_Multiply" && m.GetParameters().All(p => between.Contains(p.ParameterType)));
        Assert.Empty(products);
    }

    [Fact]
    public void A_direct_current_through_a_resistance()
    {
        var current = Current.FromAmperes(2);
        var resistance = Resistance.FromMilliohms(30);
        Assert.Equal(0.06, (current * resistance).Volts, 1e-15);
        Assert.Equal(0.12, Power.DissipatedIn(resistance, current).Watts, 1e-15);
        Assert.Equal(10, Power.OfDirectCurrent(Voltage.FromVolts(5), current).Watts);
        Assert.Equal(2.5, Resistance.OfDirectCurrent(Voltage.FromVolts(5), current).Ohms);
        Assert.Equal(2, (Voltage.FromVolts(5) / Resistance.FromOhms(2.5)).Amperes);
    }

    [Fact]
    public void Charge_moved_at_nine_volts_carries_more_energy_than_at_five()
    {
        var charge = Current.FromAmperes(1) * TimeSpan.FromHours(1);
        Assert.Equal(1, charge.AmpereHours, 1e-12);
        Assert.Equal(9, charge.AtConstant(Voltage.FromVolts(9)).WattHours, 1e-12);
        Assert.Equal(1, (charge / TimeSpan.FromHours(1)).Amperes, 1e-12);
    }

    [Fact]
    public void The_default_is_zero()
    {
        Assert.Equal(Energy.Zero, default);
        Assert.Equal(0, default(Power).Watts);
    }

    [Theory]
    [InlineData("de-DE")]
    [InlineData("tr-TR")]
    public void Text_does_not_follow_the_machines_culture(string culture)
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo(culture);
            Assert.Equal("13.18 Wh", Energy.FromWattHours(13.18).ToString());
            Assert.Equal("0.25 W", Power.FromWatts(0.25).ToString());
            Assert.Equal("0.03 Ω", Resistance.FromMilliohms(30).ToString());
            Assert.Equal("3.10 EUR", MoneyAmount.Of(3.1, "EUR").ToString());
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Comparison_follows_the_amount() => Gen.Select(Gen.Double[-1e6, 1e6], Gen.Double[-1e6, 1e6]).Sample(
        (a, b) =>
        {
            Energy x = Energy.FromJoules(a), y = Energy.FromJoules(b);
            Assert.Equal(a < b, x < y);
            Assert.Equal(a.CompareTo(b), x.CompareTo(y));
            Assert.Equal(a - b, (x - y).Joules);
            Assert.Equal(a / b, x / y);
        },
        iter: 200,
        seed: "0000KOIKFq6O");

    [Fact]
    public void Currencies_do_not_mix()
    {
        Assert.Equal(5, (MoneyAmount.Of(2, "EUR") + MoneyAmount.Of(3, "EUR")).Amount);
        Assert.Equal("EUR", (default(MoneyAmount) + MoneyAmount.Of(3, "EUR")).Currency);
        Assert.Throws<InvalidOperationException>(() => MoneyAmount.Of(2, "EUR") + MoneyAmount.Of(3, "USD"));
        Assert.Throws<ArgumentException>(() => MoneyAmount.Of(2, "Euro"));
        Assert.Equal(0.31 * 1.5, MoneyAmount.For(Energy.FromWattHours(1500), 0.31, "EUR").Amount, 1e-12);
    }
}
