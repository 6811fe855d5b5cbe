using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Documents.Architecture;
using ChargeAudit.Documents.Commands;
using ChargeAudit.Documents.Notices;

namespace ChargeAudit.Documents;

/// <summary>Documents that are made from the program itself, so that they cannot fall behind it.</summary>
public static class GeneratedDocuments
{
    /// <summary>Every one of them: its path from the root of the repository, and its text.</summary>
    /// <param name="root">The root of the repository.</param>
    public static IReadOnlyList<(string Path, string Text)> All(string root)
    {
        var tree = ChargeAuditProgram.CommandTree(new CliHost { Output = TextWriter.Null, Error = TextWriter.Null });
        return
        [
            ("docs/commands/README.md", CommandIndex.Of(tree)),
            .. tree.Subcommands.Select(c => ($"docs/commands/{c.Name}.md", CommandPage.Of(c))),
            ("docs/architecture.md", ArchitecturePage.Of(CompiledCode.OfProgramIn(AppContext.BaseDirectory))),
            ("docs/THIRD-PARTY-NOTICES.md",
                NoticesText.Of(ShippedPackages.Find(AppContext.BaseDirectory), ShippedPackages.Frameworks(AppContext.BaseDirectory), root)),
        ];
    }

    /// <summary>The root of the checkout that a folder lies in.</summary>
    /// <param name="folder">A folder inside it.</param>
    /// <exception cref="DirectoryNotFoundException">The folder lies in no checkout.</exception>
    public static string RepositoryAbove(string folder)
    {
        for (var above = new DirectoryInfo(folder); above is not null; above = above.Parent)
        {
            if (File.Exists(Path.Combine(above.FullName, "ChargeAudit.sln")))
            {
                return above.FullName;
            }
        }

        throw new DirectoryNotFoundException($"ChargeAudit.sln stands in no folder above {folder}");
    }
}
