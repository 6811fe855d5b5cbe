using System.Reflection;
using System.Text;

namespace ChargeAudit.Documents.Notices;

/// <summary>The notices of everything by others that travels with the program.</summary>
public static class NoticesText
{
    // Two packages say more, or less, in their metadata than a reader needs.
    private static readonly Dictionary<string, (string Licence, string Why)> Chosen = new(StringComparer.Ordinal)
    {
        ["CsvHelper"] = ("Apache-2.0", "offered under either licence; taken under Apache-2.0"),
        ["K4os.Compression.LZ4"] = ("MIT", "its package gives only the address of its licence, which is the MIT licence"),
    };

    /// <summary>Its Markdown.</summary>
    /// <param name="packages">The packages that are shipped.</param>
    /// <param name="frameworks">The frameworks that the program runs on, whose code goes into a program published for one platform.</param>
    /// <param name="root">The root of the repository, for what is embedded in our own assemblies.</param>
    /// <exception cref="InvalidOperationException">A package has a licence that nobody has looked at.</exception>
    public static string Of(IReadOnlyList<ShippedPackage> packages, IReadOnlyList<string> frameworks, string root)
    {
        var text =
            new StringBuilder(
                "# Third-party notices\n\nChargeAudit is under the Apache License 2.0. What it ships of others stands here, with the "
            + "licences. Made from the program's own list of dependencies and from what each package carries: `dotnet run --project "
            + "tests/ChargeAudit.Documents`.\n")
            .Append("\n## .NET itself\n\nThe tool and the library packages hold nothing of it and run on what is installed. A program "
                + "published for one platform, as native code or as a single file, holds code of the frameworks below; their licences and "
                + "notices come from the very packages that the code comes from, and lie beside the program.\n\n")
            .AppendJoin('\n', frameworks.Select(f => $"- {f}: `{f}-LICENSE.txt`, `{f}-THIRD-PARTY-NOTICES.txt`")).Append('\n')
            .Append("\n## Packages\n\n| package | version | licence | copyright | home |\n|---|---|---|---|---|\n");
        foreach (var package in packages)
        {
            text.Append("| ").Append(package.Id).Append(" | ").Append(package.Version).Append(" | ").Append(LicenceOf(package))
                .Append(" | ").Append(Cell(package.Copyright)).Append(" | ").Append(package.Address).Append(" |\n");
        }

        foreach (var package in packages.Where(p => Chosen.ContainsKey(p.Id)))
        {
            text.Append('\n').Append(package.Id).Append(": ").Append(Chosen[package.Id].Why).Append(" (`").Append(package.Licence)
                .Append("`).\n");
        }

        text.Append("\n## Native code\n\n");
        foreach (var package in packages.Where(p => p.Natives.Count > 0))
        {
            text.Append("- ").Append(package.Id).Append(": ").AppendJoin(", ", package.Natives).Append('\n');
        }

        text.Append(
            "\nThe native libraries contain further work by others; their notices stand below.\n\n## Embedded in ChargeAudit's own "
            + "assemblies\n\n")
            .Append("- uPlot 1.6.32, the plotting library of the report page (MIT)\n- DejaVu Sans 2.37, and a subset of it under the name "
                + "ReportSans (its own free licence)\n");
        Embedded(text, "uPlot", Path.Combine(root, "src/ChargeAudit.Reports/Html/Vendor/LICENSE-uPlot.txt"));
        Embedded(text, "DejaVu Sans", Path.Combine(root, "src/ChargeAudit.Reports/Fonts/LICENSE-DejaVu.txt"));
        Licences(text, packages, root);
        Carried(text, packages);
        return text.ToString();
    }

    private static void Embedded(StringBuilder text, string name, string file) =>
        Block(text.Append("\n### ").Append(name).Append('\n'), File.ReadAllText(file).ReplaceLineEndings("\n").Trim('\n'));

    private static void Licences(StringBuilder text, IReadOnlyList<ShippedPackage> packages, string root)
    {
        text.Append("\n## Licences\n");
        foreach (var group in packages.Where(p => LicenceOf(p) != ShippedPackage.OwnText || p.Texts.Count == 0).GroupBy(LicenceOf)
            .OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            text.Append("\n### ").Append(group.Key).Append("\n\n").AppendJoin('\n', group.Select(p => $"- {p.Id}: {p.Copyright}"))
                .Append('\n');
            Block(text, group.Key == "Apache-2.0"
                ? File.ReadAllText(Path.Combine(root, "LICENSE")).ReplaceLineEndings("\n").Trim('\n')
                : Licence(group.Key));
        }
    }

    // Several packages carry the very same file.
    private static void Carried(StringBuilder text, IReadOnlyList<ShippedPackage> packages)
    {
        text.Append("\n## Licences and notices that the packages carry\n");
        var files = packages.SelectMany(p => p.Texts.Select(t => (p.Id, t.Name, t.Text))).GroupBy(f => f.Text);
        foreach (var file in files)
        {
            text.Append("\n### ").AppendJoin(", ", file.Select(f => $"{f.Id} ({f.Name})")).Append('\n');
            Block(text, file.Key);
        }
    }

    private static void Block(StringBuilder text, string content) => text.Append("\n~~~~text\n").Append(content).Append("\n~~~~\n");

    private static string LicenceOf(ShippedPackage package) => Chosen.TryGetValue(package.Id, out var chosen)
        ? chosen.Licence
        : package.Licence;

    private static string Licence(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"Licences.{name}")
            ?? throw new InvalidOperationException(
                $"a package came with the licence \"{name}\"; read it, and put its text into Notices/Licences if it lets us ship the "
                + "package");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd().ReplaceLineEndings("\n").Trim('\n');
    }

    private static string Cell(string text) => text.ReplaceLineEndings(" ").Replace("|", "\\|", StringComparison.Ordinal);
}
