using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

public sealed class FactorsReaderTests
{
    [Fact]
    public void Every_factor_is_read_in_its_unit()
    {
        var factors =
            Read("factors = { offset-x = \"0.4 cm\", offset-y = \"-3 mm\", gap = \"3 mm\", rotation = \"15 deg\", power-level = \"15000 "
            + "mW\", temperature = \"-5 °C\", case = \"silicone\" }").Runs[0].Factors;
        Assert.Equal(
            [(Factor.OffsetX, 4.0), (Factor.OffsetY, -3), (Factor.Gap, 3), (Factor.Rotation, 15), (Factor.PowerLevel, 15),
                (Factor.Temperature, -5)],
            factors.Values.OrderBy(v => v.Key).Select(v => (v.Key, v.Value)));
        Assert.Equal("silicone", factors.Case);
    }

    [Fact]
    public void A_run_without_factors_has_none_and_the_rise_is_five_per_cent()
    {
        var study = Read("");
        Assert.True(study.Runs[0].Factors.IsNone);
        Assert.Equal(0.05, study.Placement.Rise);
        Assert.Equal(0.02, Read("[placement]\nrise = \"2 %\"").Placement.Rise);
    }

    [Theory]
    [InlineData("factors = { ofset-x = \"4 mm\" }", "did you mean \"offset-x\"")]
    [InlineData("factors = { offset-x = \"4\" }", "such as \"4 mm\"")]
    [InlineData("factors = { offset-x = 4 }", "a text in quotes")]
    [InlineData("factors = { gap = \"-1 mm\" }", "between 0 mm and 1000 mm")]
    [InlineData("factors = { rotation = \"400 deg\" }", "between -360")]
    [InlineData("factors = { temperature = \"23 V\" }", "23 °C")]
    [InlineData("factors = { case = \"\" }", "name the case")]
    [InlineData("factors = { power-level = \"-5 W\" }", "between 0 W")]
    [InlineData("[placement]\nrise = \"0 %\"", "such as \"5 %\"")]
    [InlineData("[placement]\nrise = 5", "a text in quotes")]
    [InlineData("[placement]\nrice = \"5 %\"", "did you mean \"rise\"")]
    public void What_cannot_be_is_refused_with_the_line_and_what_was_expected(string line, string mentions)
    {
        var error = Assert.Throws<InputException>(() => Read(line));
        Assert.Contains(mentions, error.Message, StringComparison.Ordinal);
        Assert.StartsWith("study.toml, line ", error.Message, StringComparison.Ordinal);
    }

    private static Study Read(string more) => StudyReader.Read(
        "study.toml",
            "[methods.cable]\nkind = \"wired\"\n[methods.pad]\nkind = \"inductive\"\n[[runs]]\nmethod = \"pad\"\nlogs = { usb = "
            + $"\"a.csv\" }}\n{more}\n", ".");
}
