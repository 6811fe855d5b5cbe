using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

public sealed class CoilsKeysTests
{
    private const string Whole = """
        [methods.cable]
        kind = "wired"
        [methods.pad]
        kind = "inductive"
        [methods.pad.coils]
        primary = "24 uH"
        secondary = "12 uH"
        primary-quality = "100"
        secondary-resistance = "0.24 ohm"
        coupling = "0.3"
        frequency = "127.7 kHz"
        [[runs]]
        method = "cable"
        logs = { usb = "a.csv" }
        """;

    [Fact]
    public void The_coils_of_a_method_are_read_with_their_prefixes()
    {
        var study = StudyReader.Read("study.toml", Whole, "here");
        var link = study.Methods[1].Coils!.Link!;
        Assert.Equal((24e-6, 12e-6, 0.3), (link.PrimaryH, link.SecondaryH, link.Coupling));
        Assert.Equal(2 * Math.PI * 127.7e3 * 12e-6 / 0.24, link.SecondaryQ, 1e-9);
        Assert.Null(study.Methods[0].Coils);
    }

    [Theory]
    [InlineData("primary = \"24 uH\"", "primary = \"24 uF\"", 6, "'primary' is \"24 uF\"")]
    [InlineData("coupling = \"0.3\"", "coupling = \"1.3\"", 5, "coupling")]
    [InlineData("coupling = \"0.3\"", "couplng = \"0.3\"", 10, "\"coupling\"")]
    [InlineData("coupling = \"0.3\"", "coupling = 0.3", 10, "a text in quotes")]
    [InlineData("frequency = \"127.7 kHz\"\n", "", 5, "frequency")]
    [InlineData("kind = \"inductive\"\n", "kind = \"wired\"\n", 5, "the method charges by cable")]
    public void A_mistake_is_refused_with_its_line(string old, string wrong, int line, string mentions)
    {
        string text = Whole.ReplaceLineEndings("\n");
        Assert.Contains(old, text, StringComparison.Ordinal);
        var problem =
            Assert.Throws<InputException>(() => StudyReader.Read("study.toml", text.Replace(old, wrong, StringComparison.Ordinal), "here"));
        Assert.Equal(InputProblem.Unusable, problem.Problem);
        Assert.StartsWith(InvariantText.Of($"study.toml, line {line}: "), problem.Message, StringComparison.Ordinal);
        Assert.Contains(mentions, problem.Message, StringComparison.Ordinal);
    }
}
