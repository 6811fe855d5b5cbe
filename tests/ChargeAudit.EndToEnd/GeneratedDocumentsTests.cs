using System.CommandLine;
using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Documents;
using ChargeAudit.Documents.Notices;

namespace ChargeAudit.EndToEnd;

/// <summary>The documents that are made from the program are those that it would make now.</summary>
public sealed class GeneratedDocumentsTests
{
    private static readonly RootCommand Tree = ChargeAuditProgram.CommandTree(new CliHost
    {
        Output = TextWriter.Null,
        Error = TextWriter.Null,
    });

    [Fact]
    public void No_generated_document_is_stale()
    {
        foreach (var (path, text) in GeneratedDocuments.All(Repository.Root))
        {
            string file = Path.Combine(Repository.Root, path);
            Assert.True(File.Exists(file) && File.ReadAllText(file).ReplaceLineEndings("\n") == text,
                $"{path} is stale; run dotnet run --project tests/ChargeAudit.Documents and look at the difference");
        }
    }

    [Fact]
    public void No_page_is_left_of_a_command_that_is_gone()
    {
        var pages = Directory.GetFiles(Path.Combine(Repository.Root, "docs", "commands")).Select(Path.GetFileNameWithoutExtension).Order();
        Assert.Equal(Tree.Subcommands.Select(c => c.Name).Append("README").Order(), pages);
    }

    [Fact]
    public void Every_command_has_an_example_that_its_own_parser_accepts()
    {
        foreach (var command in Tree.Subcommands)
        {
            var examples = CommandExamples.Of(command);
            Assert.Contains(examples, e => e.StartsWith($"chargeaudit {command.Name}", StringComparison.Ordinal));
            foreach (string example in examples)
            {
                Assert.True(Tree.Parse(example["chargeaudit ".Length..]).Errors.Count == 0, example);
            }
        }
    }

    [Fact]
    public void Every_option_and_argument_says_what_it_is_for()
    {
        foreach (var command in Tree.Subcommands)
        {
            Assert.False(string.IsNullOrWhiteSpace(command.Description), command.Name);
            Assert.All(command.Options, o => Assert.False(string.IsNullOrWhiteSpace(o.Description), $"{command.Name} {o.Name}"));
            Assert.All(command.Arguments, a => Assert.False(string.IsNullOrWhiteSpace(a.Description), $"{command.Name} {a.Name}"));
        }
    }

    [Fact]
    public void Every_exit_status_of_the_program_stands_on_the_page_of_the_check()
    {
        var known = typeof(ExitStatus).GetFields().Where(f => f.IsLiteral).Select(f => (int)f.GetRawConstantValue()!).Order();
        Assert.Equal(known, ExitStatuses.Of("check").Select(s => s.Status).Order());
    }

    [Fact]
    public void Every_framework_of_the_program_stands_in_the_notices_under_the_names_that_publishing_gives_its_texts()
    {
        string notices = File.ReadAllText(Path.Combine(Repository.Root, "docs", "THIRD-PARTY-NOTICES.md"));
        string publishing = File.ReadAllText(Path.Combine(Repository.Root, "src", "ChargeAudit.Cli", "Packaging.targets"));
        var frameworks = ShippedPackages.Frameworks(AppContext.BaseDirectory);
        Assert.Contains("Microsoft.AspNetCore.App", frameworks);
        Assert.Contains("Microsoft.NETCore.App", frameworks);
        foreach (string text in (string[])["LICENSE.txt", "THIRD-PARTY-NOTICES.txt"])
        {
            Assert.Contains($".Framework)-{text}\"", publishing, StringComparison.Ordinal);
            Assert.All(frameworks, f => Assert.Contains($"`{f}-{text}`", notices, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Every_assembly_beside_the_program_that_is_not_ours_is_of_a_package_in_the_notices()
    {
        var packages = ShippedPackages.Find(AppContext.BaseDirectory);
        string notices = File.ReadAllText(Path.Combine(Repository.Root, "docs", "THIRD-PARTY-NOTICES.md"));
        Assert.True(packages.Count >= 15, $"{packages.Count} packages");
        Assert.All(packages, p => Assert.Contains($"| {p.Id} | {p.Version} |", notices, StringComparison.Ordinal));
        Assert.Contains(packages, p => p.Natives.Contains("win-x64") && p.Natives.Contains("linux-x64")
            && p.Id.StartsWith("SkiaSharp", StringComparison.Ordinal) || p.Natives.Contains("linux-x64"));
    }
}
