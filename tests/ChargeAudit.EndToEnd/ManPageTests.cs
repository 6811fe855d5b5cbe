using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;

namespace ChargeAudit.EndToEnd;

/// <summary>The manual pages, held against a formatter that knows the language they are written in.</summary>
public sealed class ManPageTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Every_page_is_sound_and_says_what_its_command_takes()
    {
        string mandoc = Needs.Program("mandoc");
        Assert.Equal((0, "", ""), Brief(Run.In(_folder.Path, "man", "--out", "man1")));
        var tree = ChargeAuditProgram.CommandTree(new CliHost { Output = TextWriter.Null, Error = TextWriter.Null });
        Assert.Equal(tree.Subcommands.Select(c => $"chargeaudit-{c.Name}.1").Append("chargeaudit.1").Order(StringComparer.Ordinal),
            Directory.GetFiles(Path.Combine(_folder.Path, "man1")).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal));
        foreach (string page in Directory.GetFiles(Path.Combine(_folder.Path, "man1")))
        {
            // A page has no date: the same program writes the same page.
            var lint = Run.Process(_folder.Path, mandoc, "-T", "lint", "-W", "warning", page);
            Assert.DoesNotContain(lint.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries),
                l => !l.Contains("missing date", StringComparison.Ordinal));
        }

        foreach (var command in tree.Subcommands)
        {
            string text = Run.Process(_folder.Path, mandoc, "-T", "utf8", "-O", "width=200",
                Path.Combine("man1", $"chargeaudit-{command.Name}.1")).Output;
            string plain = System.Text.RegularExpressions.Regex.Replace(text, ".\b", "");
            Assert.All(command.Options.Where(o => !o.Hidden), o => Assert.Contains(o.Name, plain, StringComparison.Ordinal));
            Assert.Contains($"chargeaudit {command.Name}", plain, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void One_page_is_printed_by_name_and_the_program_s_without()
    {
        Assert.StartsWith(".TH CHARGEAUDIT 1 ", Run.Of("man").Output, StringComparison.Ordinal);
        Assert.StartsWith(".TH CHARGEAUDIT-AUDIT 1 ", Run.Of("man", "audit").Output, StringComparison.Ordinal);
        var refused = Run.Of("man", "audits");
        Assert.Equal(64, refused.Status);
        Assert.Contains("there is no command audits", refused.Error, StringComparison.Ordinal);
    }

    private static (int Status, string Output, string Error) Brief(Run run) => (run.Status, run.Output, run.Error);
}
