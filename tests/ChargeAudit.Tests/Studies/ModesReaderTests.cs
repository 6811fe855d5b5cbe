using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

public sealed class ModesReaderTests
{
    private const string Study = """
        [methods.cable]
        kind = "wired"
        cable-resistance = "180 mohm"

        [[runs]]
        method = "cable"
        logs = { usb = "a.csv" }

        [modes]

        """;

    [Fact]
    public void What_modes_does_not_say_keeps_its_default()
    {
        var study = StudyReader.Read("study.toml", Study + "least-charge = \"5 min\"\ntop-up-share = 12\n", ".");
        Assert.Equal(ModeOptions.Default with { LeastChargeS = 300, TopUpShare = 0.12 }, study.Modes);
        Assert.Equal(0.18, study.Methods[0].CableOhm!.Value, 12);
    }

    [Theory]
    [InlineData("least-charge = \"2 h\"", "modes.least-charge")]
    [InlineData("longest-pause = \"3 h\"", "modes.longest-pause")]
    [InlineData("least-charge = 5", "modes.least-charge")]
    [InlineData("least-chrage = \"5 min\"", "least-charge")]
    public void A_value_out_of_range_or_misspelt_is_refused_with_its_line(string line, string named)
    {
        var e = Assert.Throws<InputException>(() => StudyReader.Read("study.toml", Study + line + "\n", "."));
        Assert.Contains(named, e.Message, StringComparison.Ordinal);
        Assert.Contains("10", e.Message, StringComparison.Ordinal);
    }
}
