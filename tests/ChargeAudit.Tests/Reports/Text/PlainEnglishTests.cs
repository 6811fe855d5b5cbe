using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Reports.Text;

/// <summary>Sentences as a person would say them.</summary>
public sealed class PlainEnglishTests
{
    [Theory]
    [InlineData("cable", MethodKind.Wired, "by cable")]
    [InlineData("cable B", MethodKind.Wired, "by cable B")]
    [InlineData("pad", MethodKind.Inductive, "on the pad")]
    [InlineData("Pad A", MethodKind.Inductive, "on Pad A")]
    [InlineData("pad-5W", MethodKind.Inductive, "on pad-5W")]
    [InlineData("padded stand", MethodKind.Inductive, "with padded stand")]
    [InlineData("bedside", MethodKind.Inductive, "with bedside")]
    [InlineData("pad", MethodKind.Wired, "with pad")]
    public void A_method_is_told_by_its_own_name(string name, MethodKind kind, string expected) =>
        Assert.Equal(expected, PlainWords.Charging(name, kind));

    // By hand: 1.96 times 0.01 is 1.96 %.
    [Theory]
    [InlineData(1.5, 0.01, "50.0 % more", "95 % interval 48.0 to 52.0 %")]
    [InlineData(0.9, 0.01, "10.0 % less", "95 % interval 8.0 to 12.0 %")]
    [InlineData(1.01, 0.02, "1.0 % more", "95 % interval -2.9 to 4.9 % more; it includes 0, so no difference is shown")]
    [InlineData(0.99, 0.02, "1.0 % less", "95 % interval -4.9 to 2.9 % more; it includes 0, so no difference is shown")]
    public void A_ratio_is_told_as_so_much_more_or_less(double ratio, double u, string difference, string certainty)
    {
        var figure = Measured.From(ratio, "1", [new UncertaintyComponent(new InfluenceSource("a"), u)]);
        Assert.Equal(difference, OverheadText.Difference(figure));
        Assert.Equal(certainty, OverheadText.Certainty(figure));
    }

    [Fact]
    public void A_ratio_of_unknown_uncertainty_says_why()
    {
        var figure = Measured.Unknown(1.5064, "1", "no accuracy is given for the meter");
        Assert.Equal("50.6 % more", OverheadText.Difference(figure));
        Assert.Equal("uncertainty not known: no accuracy is given for the meter", OverheadText.Certainty(figure));
    }

    [Fact]
    public void A_sentence_that_holds_for_several_logs_is_told_once()
    {
        Assert.Equal(
            ["a.csv and c.csv: It drifts.",
                "b.csv: It waits from 0 to 10 s. Likewise for d.csv and e.csv, with 2 s in place of 0 s and 9 to 9.5 s in place of 10 s."],
            Told(
            [
                new("a.csv", ": It drifts."), new("b.csv", ": It waits from 0 to 10 s."), new("c.csv", ": It drifts."),
                new("d.csv", ": It waits from 2 to 9 s."), new("e.csv", ": It waits from 2 to 9.5 s."),
            ]));
        Assert.Equal(["a, b, c and 2 more: It drifts."], Told([.. "abcde".Select(c => new Alike.Named(c.ToString(), ": It drifts."))]));
    }

    private static IEnumerable<string> Told(IReadOnlyList<Alike.Named> said) =>
        new Alike(new ReportFixture().Build()).Groups(said).Select(g => g.Text);
}
