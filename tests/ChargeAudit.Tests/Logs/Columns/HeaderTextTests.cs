using ChargeAudit.Logs.Columns;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Logs.Columns;

/// <summary>How header cells are understood.</summary>
public sealed class HeaderTextTests
{
    [Theory]
    [InlineData("Voltage (V)", LogQuantity.Voltage, "V")]
    [InlineData("I [mA]", LogQuantity.Current, "mA")]
    [InlineData("P_W", LogQuantity.Power, "W")]
    [InlineData("Energy/mWh", LogQuantity.Energy, "mWh")]
    [InlineData("Power, W", LogQuantity.Power, "W")]
    [InlineData("current in mA", LogQuantity.Current, "mA")]
    [InlineData("voltage V", LogQuantity.Voltage, "V")]
    [InlineData("Vbus(V)", LogQuantity.Voltage, "V")]
    [InlineData("busVoltage", LogQuantity.Voltage, null)]
    [InlineData("U", LogQuantity.Voltage, null)]
    [InlineData("mAh", LogQuantity.Charge, "mAh")]
    [InlineData("kWh", LogQuantity.Energy, "kWh")]
    [InlineData("VA", LogQuantity.ApparentPower, "VA")]
    [InlineData("S (VA)", LogQuantity.ApparentPower, "VA")]
    [InlineData("apparent power", LogQuantity.ApparentPower, null)]
    [InlineData("PF", LogQuantity.PowerFactor, null)]
    [InlineData("cos φ", LogQuantity.PowerFactor, null)]
    [InlineData("power factor (%)", LogQuantity.PowerFactor, "%")]
    [InlineData("Q (mAh)", LogQuantity.Charge, "mAh")]
    [InlineData("Q (var)", LogQuantity.Ignored, "var")]
    [InlineData("reactive power", LogQuantity.Ignored, null)]
    [InlineData("T (°C)", LogQuantity.Temperature, "°C")]
    [InlineData("T", LogQuantity.Temperature, null)]
    [InlineData("t", LogQuantity.Time, null)]
    [InlineData("f (Hz)", LogQuantity.Frequency, "Hz")]
    [InlineData("time_ms", LogQuantity.Time, "ms")]
    [InlineData("Time stamp", LogQuantity.Time, null)]
    [InlineData("Zeit in Minuten", LogQuantity.Time, "min")]
    [InlineData("Zeit in Stunden", LogQuantity.Time, "h")]
    [InlineData("tempo em minutos", LogQuantity.Time, "min")]
    [InlineData("tijd in minuten", LogQuantity.Time, "min")]
    [InlineData("minuti", LogQuantity.Time, "min")]
    [InlineData("Fecha y hora", LogQuantity.Time, null)]
    [InlineData("capacity (Wh)", LogQuantity.Energy, "Wh")]
    [InlineData("consumption (W)", LogQuantity.Power, "W")]
    [InlineData("charge (%)", LogQuantity.Ignored, "%")]
    [InlineData("I (µA)", LogQuantity.Current, "µA")]
    [InlineData("I (\u03BCA)", LogQuantity.Current, "µA")]
    [InlineData("I (uA)", LogQuantity.Current, "µA")]
    [InlineData("row", LogQuantity.Ignored, null)]
    [InlineData("note", LogQuantity.Ignored, null)]
    [InlineData("state of charge", LogQuantity.Ignored, null)]
    public void A_header_is_taken_apart(string cell, LogQuantity quantity, string? unit)
    {
        HeaderText header = HeaderText.Parse(cell);

        Assert.Equal((quantity, unit), (header.Quantity, header.Unit?.Symbol));
    }

    [Theory]
    [InlineData("voltage max (V)", "voltage (V)")]
    [InlineData("set voltage (V)", "voltage avg (V)")]
    [InlineData("peak power (W)", "power (W)")]
    [InlineData("power (W)", "active power (W)")]
    [InlineData("D+ voltage (V)", "bus voltage (V)")]
    public void The_plain_reading_goes_before_its_relatives(string side, string plain) =>
        Assert.True(HeaderText.Parse(plain).Rank > HeaderText.Parse(side).Rank);
}
