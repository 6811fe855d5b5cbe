using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

/// <summary>What a meter's table says of the mains.</summary>
public sealed class MeterMainsKeysTests
{
    private const string Stated = """
        accuracy = { power = "1 %", phase = ["0.2°", "2 % at power factor 0.5"] }
        power-factor = 0.4
        limits = { power-factor = 0.3, crest-factor = 3, starting-power = "0.4 W" }
        """;

    [Fact]
    public void Phase_power_factor_and_limits_are_read()
    {
        var meter = Read(Stated).Meters["plug"];
        Assert.Equal(["0.2°", "2 % at power factor 0.5"], meter.Phase.Select(p => p.Text));
        Assert.Equal(0.4, meter.PowerFactor);
        Assert.Equal((0.3, 3, 0.4), (meter.Limits.LeastPowerFactor, meter.Limits.GreatestCrestFactor, meter.Limits.StartingPowerW));
    }

    [Theory]
    [InlineData("\"0.2°\"", "\"0.2\"", "line 4: meters.plug.accuracy.phase: the phase '0.2' was not understood; expected a phase error")]
    [InlineData("power-factor = 0.4", "power-factor = 0", "line 5: meters.plug.power-factor is 0; a power factor above 0")]
    [InlineData("power-factor = 0.4", "power-factor = 1.4", "line 5: meters.plug.power-factor is 1.4; it must lie between 0 and 1")]
    [InlineData("crest-factor = 3", "crest-factor = 0.5", "line 6: meters.plug.limits.crest-factor is 0.5; it must lie between 1 and 1000")]
    [InlineData("starting-power = \"0.4 W\"", "starting-power = \"0.4\"", "a value with its unit was expected, such as \"0.4 W\"")]
    [InlineData("crest-factor", "crest", "has an unknown key \"crest\"")]
    [InlineData("accuracy", "point = \"usb\"\naccuracy", "belongs to a meter on the mains, and this one sits at \"usb\"")]
    public void What_cannot_be_is_refused_with_its_line(string written, string instead, string expected)
    {
        int at = Stated.IndexOf(written, StringComparison.Ordinal);
        var e = Assert.Throws<InputException>(() => Read(Stated[..at] + instead + Stated[(at + written.Length)..]));
        Assert.Contains(expected, e.Message, StringComparison.Ordinal);
    }

    private static Study Read(string meter) => StudyReader.Read("study.toml", $$"""
        [methods.cable]
        kind = "wired"
        [meters.plug]
        {{meter.Replace("\n", "\n        ", StringComparison.Ordinal)}}
        [[runs]]
        method = "cable"
        logs = { wall = { file = "c1.csv", meter = "plug" } }
        """, "here");
}
