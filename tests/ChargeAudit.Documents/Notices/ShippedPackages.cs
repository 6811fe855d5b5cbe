using System.Text;
using System.Text.Json;
using System.Xml.Linq;

namespace ChargeAudit.Documents.Notices;

/// <summary>Finds what is really shipped: the packages that the built program's own list of dependencies names, with the metadata that each
/// carries.</summary>
public static class ShippedPackages
{
    private static readonly string[] LegalWords = ["licen", "notice", "copying"];

    /// <summary>The packages with a file of their own in the program's folder, by name.</summary>
    /// <param name="programFolder">Where <c>chargeaudit.deps.json</c> lies.</param>
    /// <exception cref="InvalidOperationException">A package is not where restoring puts it.</exception>
    public static IReadOnlyList<ShippedPackage> Find(string programFolder)
    {
        using var dependencies = JsonDocument.Parse(File.ReadAllText(Path.Combine(programFolder, "chargeaudit.deps.json")));
        var libraries = dependencies.RootElement.GetProperty("libraries");
        string target = dependencies.RootElement.GetProperty("runtimeTarget").GetProperty("name").GetString()!;
        return
        [
            .. dependencies.RootElement.GetProperty("targets").GetProperty(target).EnumerateObject()
                .Where(p => libraries.GetProperty(p.Name).GetProperty("type").GetString() == "package" && HasFiles(p.Value))
                .Select(p => Of(p.Name, p.Value)).OrderBy(p => p.Id, StringComparer.Ordinal),
        ];
    }

    /// <summary>The frameworks that the program runs on, by name.</summary>
    /// <param name="programFolder">Where <c>chargeaudit.runtimeconfig.json</c> lies.</param>
    public static IReadOnlyList<string> Frameworks(string programFolder)
    {
        using var configuration = JsonDocument.Parse(File.ReadAllText(Path.Combine(programFolder, "chargeaudit.runtimeconfig.json")));
        return [.. configuration.RootElement.GetProperty("runtimeOptions").GetProperty("frameworks").EnumerateArray()
            .Select(f => f.GetProperty("name").GetString()!).Order(StringComparer.Ordinal)];
    }

    private static bool HasFiles(JsonElement package) => package.TryGetProperty("runtime", out _)
        || package.TryGetProperty("runtimeTargets", out _) || package.TryGetProperty("native", out _);

    private static ShippedPackage Of(string nameAndVersion, JsonElement entry)
    {
        string[] parts = nameAndVersion.Split('/');
        string folder = Path.Combine(PackageFolder(), parts[0].ToLowerInvariant(), parts[1].ToLowerInvariant());
        if (!Directory.Exists(folder))
        {
            throw new InvalidOperationException($"{nameAndVersion} is not in {PackageFolder()}; restore the solution first");
        }

        var metadata = XDocument.Load(Path.Combine(folder, $"{parts[0].ToLowerInvariant()}.nuspec")).Root!.Elements()
            .Single(e => e.Name.LocalName == "metadata").Elements().ToList();
        string? Value(string name) => metadata.FirstOrDefault(e => e.Name.LocalName == name)?.Value.Trim();
        var licence = metadata.FirstOrDefault(e => e.Name.LocalName == "license");
        return new ShippedPackage(
            parts[0],
            parts[1],
            (string?)licence?.Attribute("type") switch
            {
                "expression" => licence!.Value,
                "file" => ShippedPackage.OwnText,
                _ => Value("licenseUrl") ?? "",
            },
            Value("copyright") is { Length: > 0 } copyright ? copyright : $"Copyright {Value("authors")}",
            Value("projectUrl") ?? "",
            entry.TryGetProperty("runtimeTargets", out var natives)
                ? [.. natives.EnumerateObject().Where(n => n.Value.GetProperty("assetType").GetString() == "native")
                    .Select(n => n.Value.GetProperty("rid").GetString()!).Distinct().Order(StringComparer.Ordinal)]
                : [],
            [.. LegalFiles(folder).Select(f => (Path.GetFileName(f), Plain(f)))]);
    }

    private static IEnumerable<string> LegalFiles(string folder) => Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
        .Where(f => LegalWords.Any(w => Path.GetFileName(f).Contains(w, StringComparison.OrdinalIgnoreCase))
            && Path.GetExtension(f).ToLowerInvariant() is "" or ".txt" or ".md")
        .Order(StringComparer.Ordinal);

    private static string Plain(string file) =>
        string.Join('\n', File.ReadAllText(file, Encoding.UTF8).ReplaceLineEndings("\n").Split('\n').Select(l => l.TrimEnd()))
        .Trim('\n', '\ufeff');

    // Where restoring puts packages, unless the machine says otherwise.
    private static string PackageFolder() => Environment.GetEnvironmentVariable("NUGET_PACKAGES") is { Length: > 0 } named
        ? named
        : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".nuget", "packages");
}
