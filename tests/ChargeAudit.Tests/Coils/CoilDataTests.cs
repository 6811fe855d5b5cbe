using ChargeAudit.Coils;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Coils;

public sealed class CoilDataTests
{
    private static readonly Dictionary<string, string> Full = new()
    {
        ["primary"] = "24 uH",
        ["secondary"] = "12 uH",
        ["coupling"] = "0.4",
        ["frequency"] = "127.7 kHz",
        ["primary-quality"] = "100",
        ["secondary-quality"] = "40",
    };

    [Fact]
    public void A_full_description_gives_every_figure()
    {
        CoilReport report = CoilReport.From(CoilData.Read(Full, "the command line"));
        Assert.Equal(3, report.Circuits.Count);
        Assert.Equal(0.924006319, report.Link!.MaximumEfficiency, 5e-10);
        Assert.NotNull(report.Sweep);
        string text = report.ToText();
        Assert.Contains("92.4 %", text, StringComparison.Ordinal);
        Assert.Contains("64.72 nF and 129.4 nF", text, StringComparison.Ordinal);
        Assert.Contains("6.094 Ω", text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_inductance_and_a_capacitance_give_the_resonance_and_say_what_else_is_needed()
    {
        CoilReport report =
            CoilReport.From(
                CoilData.Read(new Dictionary<string, string> { ["primary"] = "1.1mH", ["primary-capacitance"] = "100nF" },
                "the command line"));
        string text = report.ToText();
        Assert.Contains("15.17 kHz", text, StringComparison.Ordinal);
        Assert.Contains("give also: secondary", text, StringComparison.Ordinal);
        Assert.Null(report.Link);
    }

    [Fact]
    public void Geometry_gives_the_coupling_and_a_resistance_the_quality()
    {
        Dictionary<string, string> entries = new(Full)
        {
            ["primary-turns"] = "18",
            ["primary-inner-radius"] = "11.5 mm",
            ["primary-outer-radius"] = "24 mm",
            ["secondary-turns"] = "13",
            ["secondary-inner-radius"] = "10 mm",
            ["secondary-outer-radius"] = "20 mm",
            ["gap"] = "4.5 mm",
            ["primary-resistance"] = "0.2 ohm",
        };
        entries.Remove("coupling");
        entries.Remove("primary-quality");
        CoilData data = CoilData.Read(entries, "the command line");
        double near = data.Coupling!.Value;
        Assert.Equal(data.GeometricMutualH!.Value / Math.Sqrt(24e-6 * 12e-6), near, 1e-15);
        Assert.Equal(2 * Math.PI * 127.7e3 * 24e-6 / 0.2, data.PrimaryQ!.Value, 1e-9);
        entries["gap"] = "9 mm";
        Assert.True(CoilData.Read(entries, "the command line").Coupling < near);
        entries["gap"] = "4.5 mm";
        entries["offset"] = "10 mm";
        Assert.True(CoilData.Read(entries, "the command line").Coupling < near);
    }

    [Theory]
    [InlineData("couplin", "0.4", "'couplin' is not known of a coil")]
    [InlineData("coupling", "1.2", "expected above 0 and below 1")]
    [InlineData("coupling", "-0.1", "'coupling' is \"-0.1\"; a number above zero, such as 0.4, was expected")]
    [InlineData("primary", "24", "'primary' is \"24\"; a value above zero with its unit, such as 21 µH, was expected")]
    [InlineData("primary-resistance", "1 ohm", "say the same")]
    [InlineData("gap", "4 mm", "for the geometry primary-turns")]
    public void What_cannot_be_used_gets_one_sentence(string key, string value, string expected)
    {
        Dictionary<string, string> entries = new(Full) { [key] = value };
        InputException problem = Assert.Throws<InputException>(() => CoilData.Read(entries, "the command line"));
        Assert.StartsWith("the command line: ", problem.Message, StringComparison.Ordinal);
        Assert.Contains(expected, problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Too_little_is_said_to_be_too_little() =>
        Assert.Contains("too little is known",
            Assert.Throws<InputException>(() =>
            CoilReport.From(CoilData.Read(new Dictionary<string, string> { ["load"] = "5 ohm" }, "x"))).Message, StringComparison.Ordinal);
}
