using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Tests.Metrology.Units;

/// <summary>Every unit with its factor, worked out by hand from the definitions of the SI.</summary>
public sealed class UnitTableTests
{
    [Theory]
    [InlineData("V", UnitKind.Voltage, 1)]
    [InlineData("mV", UnitKind.Voltage, 0.001)]
    [InlineData("µV", UnitKind.Voltage, 0.000001)]
    [InlineData("kV", UnitKind.Voltage, 1000)]
    [InlineData("A", UnitKind.Current, 1)]
    [InlineData("mA", UnitKind.Current, 0.001)]
    [InlineData("µA", UnitKind.Current, 0.000001)]
    [InlineData("nA", UnitKind.Current, 0.000000001)]
    [InlineData("W", UnitKind.Power, 1)]
    [InlineData("mW", UnitKind.Power, 0.001)]
    [InlineData("µW", UnitKind.Power, 0.000001)]
    [InlineData("kW", UnitKind.Power, 1000)]
    [InlineData("MW", UnitKind.Power, 1000000)]
    [InlineData("VA", UnitKind.ApparentPower, 1)]
    [InlineData("mVA", UnitKind.ApparentPower, 0.001)]
    [InlineData("kVA", UnitKind.ApparentPower, 1000)]
    [InlineData("var", UnitKind.ReactivePower, 1)]
    [InlineData("mvar", UnitKind.ReactivePower, 0.001)]
    [InlineData("kvar", UnitKind.ReactivePower, 1000)]
    [InlineData("J", UnitKind.Energy, 1)]
    [InlineData("mJ", UnitKind.Energy, 0.001)]
    [InlineData("kJ", UnitKind.Energy, 1000)]
    [InlineData("MJ", UnitKind.Energy, 1000000)]
    [InlineData("Wmin", UnitKind.Energy, 60)]
    [InlineData("kWmin", UnitKind.Energy, 60000)]
    [InlineData("Wh", UnitKind.Energy, 3600)]
    [InlineData("mWh", UnitKind.Energy, 3.6)]
    [InlineData("µWh", UnitKind.Energy, 0.0036)]
    [InlineData("kWh", UnitKind.Energy, 3600000)]
    [InlineData("MWh", UnitKind.Energy, 3600000000)]
    [InlineData("VAh", UnitKind.ApparentEnergy, 3600)]
    [InlineData("kVAh", UnitKind.ApparentEnergy, 3600000)]
    [InlineData("varh", UnitKind.ReactiveEnergy, 3600)]
    [InlineData("kvarh", UnitKind.ReactiveEnergy, 3600000)]
    [InlineData("C", UnitKind.Charge, 1)]
    [InlineData("mC", UnitKind.Charge, 0.001)]
    [InlineData("Ah", UnitKind.Charge, 3600)]
    [InlineData("mAh", UnitKind.Charge, 3.6)]
    [InlineData("µAh", UnitKind.Charge, 0.0036)]
    [InlineData("s", UnitKind.Time, 1)]
    [InlineData("ms", UnitKind.Time, 0.001)]
    [InlineData("µs", UnitKind.Time, 0.000001)]
    [InlineData("ns", UnitKind.Time, 0.000000001)]
    [InlineData("min", UnitKind.Time, 60)]
    [InlineData("h", UnitKind.Time, 3600)]
    [InlineData("d", UnitKind.Time, 86400)]
    [InlineData("°C", UnitKind.Temperature, 1)]
    [InlineData("°F", UnitKind.Temperature, 0.55555555555555558)]
    [InlineData("K", UnitKind.Temperature, 1)]
    [InlineData("Hz", UnitKind.Frequency, 1)]
    [InlineData("mHz", UnitKind.Frequency, 0.001)]
    [InlineData("kHz", UnitKind.Frequency, 1000)]
    [InlineData("Ω", UnitKind.Resistance, 1)]
    [InlineData("mΩ", UnitKind.Resistance, 0.001)]
    [InlineData("kΩ", UnitKind.Resistance, 1000)]
    [InlineData("%", UnitKind.Ratio, 0.01)]
    public void A_symbol_is_found_with_its_factor(string symbol, UnitKind kind, double factor)
    {
        Assert.True(UnitTable.TryFind(symbol, out Unit unit));
        Assert.Equal((symbol, kind, factor), (unit.Symbol, unit.Kind, unit.Factor));
    }

    [Fact]
    public void The_test_above_covers_the_whole_table()
    {
        int tested = typeof(UnitTableTests)
            .GetMethod(nameof(A_symbol_is_found_with_its_factor))!.GetCustomAttributes(typeof(InlineDataAttribute), false).Length;

        Assert.Equal(tested, UnitTable.All.Count());
    }

    [Theory]
    [InlineData("\u03BCA", "µA")]
    [InlineData("\u00B5A", "µA")]
    [InlineData("uA", "µA")]
    [InlineData("us", "µs")]
    [InlineData(" V ", "V")]
    [InlineData("v", "V")]
    [InlineData("KWH", "kWh")]
    [InlineData("kwh", "kWh")]
    [InlineData("wh", "Wh")]
    [InlineData("mah", "mAh")]
    [InlineData("hz", "Hz")]
    [InlineData("W·h", "Wh")]
    [InlineData("kW*h", "kWh")]
    [InlineData("watts", "W")]
    [InlineData("Milliamps", "mA")]
    [InlineData("\u2126", "Ω")]
    [InlineData("Cel", "°C")]
    public void Other_spellings_are_known(string written, string symbol)
    {
        Assert.True(UnitTable.TryFind(written, out Unit unit));
        Assert.Equal(symbol, unit.Symbol);
    }

    [Theory]
    [InlineData("MA")]
    [InlineData("MAH")]
    [InlineData("MV")]
    [InlineData("mWH ")]
    [InlineData("S")]
    [InlineData("H")]
    [InlineData("c")]
    [InlineData("F")]
    [InlineData("")]
    [InlineData("Watz")]
    public void What_case_or_spelling_leaves_open_is_no_unit(string written)
    {
        bool found = UnitTable.TryFind(written, out Unit unit);

        // The prefix is never guessed; mWH keeps its small m and is plain.
        Assert.Equal(written == "mWH ", found);
        Assert.Equal(found ? "mWh" : null, unit.Symbol);
    }

    [Fact]
    public void Prefixes_a_thousand_million_apart_are_never_mixed()
    {
        Assert.True(UnitTable.TryFind("mWh", out Unit small));
        Assert.True(UnitTable.TryFind("MWh", out Unit large));

        Assert.Equal(1e9, large.Factor / small.Factor, 1e-3);
    }
}
