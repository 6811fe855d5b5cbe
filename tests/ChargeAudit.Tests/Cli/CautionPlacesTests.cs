using System.Text.RegularExpressions;
using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Output;
using ChargeAudit.Reports.Text;
using ChargeAudit.Tests.Reports;

namespace ChargeAudit.Tests.Cli;

/// <summary>The places where the program itself prints cautions.</summary>
public sealed class CautionPlacesTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory().FullName;

    public static TheoryData<string> Commands =>
        [.. ChargeAuditProgram.CommandTree(new CliHost { Output = TextWriter.Null, Error = TextWriter.Null }).Subcommands.Select(c =>
            c.Name)];

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task The_help_of_the_program_holds_the_full_list()
    {
        string help = await Printed("--help");
        Assert.All(Cautions.All, c => Assert.Contains(c, help, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Commands))]
    public async Task The_help_of_every_command_holds_the_short_line(string command)
    {
        string help = await Printed(command, "--help");
        Assert.Contains(Cautions.Line, help, StringComparison.Ordinal);
        Assert.Contains(CautionText.Elsewhere, help, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("measure", "--help")]
    [InlineData("inspect", "-h")]
    [InlineData("check", "--help")]
    public async Task Help_is_given_though_what_the_command_needs_is_missing(params string[] arguments) =>
        Assert.Contains("Usage:", await Printed(arguments), StringComparison.Ordinal);

    [Fact]
    public async Task An_audit_with_details_and_procedure_says_the_short_line_and_the_laboratory_rule()
    {
        string study = Golden.RepositoryFile("sample-logs", "study.toml");
        string printed = await Printed("audit", study, "--out", _folder, "--details", "--procedure", "us-appendix-y");
        Assert.Contains(Cautions.Line, printed, StringComparison.Ordinal);
        Assert.Contains(Cautions.Laboratory, printed, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_plan_says_the_short_line() =>
        Assert.Contains(Cautions.Line, await Printed("plan", "--resolution", "3%", "--repeatability", "1%"), StringComparison.Ordinal);

    [Fact]
    public async Task The_coils_say_the_short_line() =>
        Assert.Contains(Cautions.Line,
            await Printed("coils", "--primary", "1.1mH", "--primary-capacitance", "100nF", "--secondary", "12uH", "--coupling", "0.4",
            "--frequency", "100kHz", "--primary-quality", "100", "--secondary-quality", "40"), StringComparison.Ordinal);

    [Theory]
    [InlineData("battery", true)]
    [InlineData("device", true)]
    [InlineData("usb", false)]
    public async Task A_meter_inside_a_product_brings_the_laboratory_rule(string point, bool said)
    {
        string log = Path.Combine(_folder, "a.csv");
        await File.WriteAllLinesAsync(log, ["time (s),P (W)", .. Enumerable.Range(0, 400).Select(i => $"{i},{(i < 300 ? 5 : 0)}")],
            TestContext.Current.CancellationToken);
        Assert.Equal(said, (await Printed("measure", log, "--point", point)).Contains(Cautions.Laboratory, StringComparison.Ordinal));
    }

    private static async Task<string> Printed(params string[] arguments)
    {
        await using var output = new StringWriter();
        await using var error = new StringWriter();
        int status = await ChargeAuditProgram.RunAsync(arguments, new CliHost { Output = output, Error = error },
            TestContext.Current.CancellationToken);
        Assert.Equal((0, ""), (status, error.ToString()));
        return Regex.Replace(output.ToString(), @"\s+", " ");
    }
}
