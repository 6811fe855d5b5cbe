using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

public sealed class CheckReaderTests
{
    [Fact]
    public void All_keys_are_read()
    {
        var rules =
            Read("margin = \"2 %\"\nenergy-margin = \"1.5%\"\nno-load-margin = \"10 %\"\nmaintenance-margin = \"5 %\"\nduration-margin = "
            + "\"4 %\"\npeak-margin = \"20 %\"\noverhead-margin = \"3 %\"\nlooks = [3, 6, 9]\nspending = \"pocock\"\nalpha = 0.01\nfigures "
            + "= [\"no-load\", \"energy\"]\nrepeatability = \"1 %\"\n");
        Assert.Equal((0.02, 0.01, 0.01), (rules.Margin, rules.Alpha, rules.Repeatability));
        Assert.Equal([CheckedFigure.EnergyPerCharge, CheckedFigure.NoLoadPower], rules.Figures);
        Assert.Equal([3, 6, 9], rules.Looks);
        Assert.Equal(SpendingRule.Pocock, rules.Spending);
        Assert.Equal([0.015, 0.10, 0.05, 0.04, 0.20, 0.03], Enum.GetValues<CheckedFigure>()
            .Select(f => Math.Round(rules.MarginOf(f)!.Value, 12)));
    }

    [Fact]
    public void A_margin_of_its_own_at_a_point_goes_before_the_figure_s()
    {
        var rules = Read("margin = \"2 %\"\nenergy-margin = \"1.5 %\"\n[check.wall]\nenergy-margin = \"3 %\"\n");
        Assert.Equal(0.03, rules.MarginOf(CheckedFigure.EnergyPerCharge, MeasuringPoint.Wall)!.Value, 12);
        Assert.Equal(0.015, rules.MarginOf(CheckedFigure.EnergyPerCharge, MeasuringPoint.Usb)!.Value, 12);
        Assert.Equal(0.02, rules.MarginOf(CheckedFigure.PeakPower, MeasuringPoint.Wall)!.Value, 12);
        Assert.Contains("energy-margin", Assert.Throws<InputException>(() => Read("[check.wall]\nenergi-margin = \"3 %\"\n")).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Without_the_table_nothing_is_set_and_every_figure_is_compared()
    {
        var rules = Read(null);
        Assert.Null(rules.MarginOf(CheckedFigure.EnergyPerCharge));
        Assert.Equal(6, rules.Figures.Count);
    }

    [Theory]
    [InlineData("margin = \"2\"", "per cent")]
    [InlineData("margin = \"-2 %\"", "per cent")]
    [InlineData("margin = \"100 %\"", "per cent")]
    [InlineData("margin = \"2,5 %\"", "per cent")]
    [InlineData("margin = 2", "text in quotes")]
    [InlineData("alpha = 0.5", "between")]
    [InlineData("alpha = 0", "between")]
    [InlineData("figures = [\"cost\"]", "figures are energy")]
    [InlineData("looks = [3]", "two to 20 rising numbers")]
    [InlineData("looks = [6, 3]", "two to 20 rising numbers")]
    [InlineData("looks = [1, 3]", "from 2 up")]
    [InlineData("looks = [3.5, 6]", "rising numbers")]
    [InlineData("looks = [\"3\", 6]", "a list of numbers")]
    [InlineData("spending = \"pocock\"", "none are planned")]
    [InlineData("energymargin = \"2 %\"", "did you mean \"energy-margin\"")]
    public void What_cannot_be_meant_is_refused_with_its_line(string line, string mentions)
    {
        var e = Assert.Throws<InputException>(() => Read(line + "\n"));
        Assert.Contains("line 7", e.Message, StringComparison.Ordinal);
        Assert.Contains(mentions, e.Message, StringComparison.Ordinal);
    }

    private static CheckRules Read(string? table) => StudyReader.Read(
        "study.toml",
        "[methods.cable]\nkind = \"wired\"\n[[runs]]\nmethod = \"cable\"\nlogs = { usb = \"a.csv\" }\n"
            + (table is null ? "" : "[check]\n" + table),
        ".").Check;
}
