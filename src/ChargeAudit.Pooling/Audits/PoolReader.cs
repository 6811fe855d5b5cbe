using System.Text.Json;
using ChargeAudit.Checking;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Pooling.Audits;

/// <summary>Finds and reads the results that are to be pooled: files, folders of them, or lists.</summary>
public static class PoolReader
{
    private const string FileName = "results.json";

    /// <summary>What a command line names.</summary>
    /// <param name="paths">Files <c>results.json</c>, folders in which such files are looked for at any depth, and lists (TOML).</param>
    /// <returns>The audits in order, and the lists' own words.</returns>
    /// <exception cref="InputException">A path is missing, holds no results, or holds what cannot be read.</exception>
    public static (IReadOnlyList<PooledAudit> Audits, IReadOnlyList<PoolList> Lists) Read(IReadOnlyList<string> paths)
    {
        var lists = new List<PoolList>();
        var listed = new List<ListedAudit>();
        foreach (string path in paths)
        {
            if (path.EndsWith(".toml", StringComparison.OrdinalIgnoreCase))
            {
                var list = PoolList.Load(path);
                lists.Add(list);
                listed.AddRange(list.Audits.SelectMany(Files));
            }
            else
            {
                listed.AddRange(Files(new ListedAudit(path)));
            }
        }

        string shared = Shared([.. listed.Select(l => l.Name).Where(Path.IsPathRooted)]);
        return ([.. listed.Select(l => Audit(l, Path.IsPathRooted(l.Name) ? Path.GetRelativePath(shared, l.Name) : l.Name))], lists);
    }

    // What is published names no folder of the user's but those that tell the audits apart, so names start below the folder that all lie
    // in; a single file keeps its folder's name.
    private static string Shared(IReadOnlyList<string> rooted)
    {
        string shared = rooted.Count > 0 ? Path.GetDirectoryName(Path.GetFullPath(rooted[0]))! : "";
        while (rooted.Any(r => Path.GetRelativePath(shared, r).StartsWith("..", StringComparison.Ordinal)))
        {
            shared = Path.GetDirectoryName(shared)!;
        }

        return rooted.Count == 1 ? Path.GetDirectoryName(shared) ?? shared : shared;
    }

    private static IEnumerable<ListedAudit> Files(ListedAudit audit)
    {
        if (!Directory.Exists(audit.Results))
        {
            return [audit];
        }

        string[] found = [.. Directory.EnumerateFiles(audit.Results, FileName, SearchOption.AllDirectories).Order(StringComparer.Ordinal)];
        if (found.Length == 0)
        {
            throw new InputException(
                InputProblem.Missing, $"{audit.Results} holds no {FileName} at any depth; name a folder that an audit was written to");
        }

        return found.Select(f => audit with { Results = f, Name = Path.Combine(audit.Name, Path.GetRelativePath(audit.Results, f)) });
    }

    private static PooledAudit Audit(ListedAudit listed, string name)
    {
        var design = BaselineReader.Load(listed.Results);
        using var document = JsonDocument.Parse(File.ReadAllBytes(listed.Results));
        var root = document.RootElement;
        var results = root.GetProperty("comparisons").EnumerateArray();
        string? study = root.GetProperty("provenance").GetProperty("studySha256").GetString();
        var instruments = root.TryGetProperty("instruments", out var keys)
            ? keys.EnumerateArray()
                .ToDictionary(k => k.GetProperty("meter").GetString()!, k => k.GetProperty("instrument").GetString()!,
                StringComparer.Ordinal)
            : [];
        foreach (var (meter, instrument) in listed.Instruments)
        {
            instruments[meter] = instrument;
        }

        return new PooledAudit(name, design, root.GetProperty("reference").GetString()!)
        {
            Device = listed.Device ?? design.DeviceName ?? throw new InputException(
                InputProblem.Unusable,
                    $"{listed.Results} does not say which device was charged; add name under [device] to its study, or device = \"…\" in "
                    + "the list"),
            Mark = study is null ? design.Sha256 : $"{study}/{AuditHash(design)}",
            EndedByRule = results.Any(c => c.GetProperty("endRules").GetArrayLength() > 0),
            Procedure = root.GetProperty("procedure") is { ValueKind: JsonValueKind.Object } p && p.TryGetProperty("name", out var named)
                ? named.GetString()
                : null,
            Chargers = listed.Chargers,
            Instruments = instruments,
            Factors = OfRuns(design).Concat(listed.Factors.Where(f => !OfRuns(design).Any(o => o.Key == f.Key))).ToDictionary(),
        };
    }

    // Logs changed under an unchanged study are another measurement.
    private static string AuditHash(MeasuredDesign design) => string.Join('+', design.LogSha256.Order(StringComparer.Ordinal));

    // A factor that all runs were made at is the audit's.
    private static List<KeyValuePair<string, object>> OfRuns(MeasuredDesign design)
    {
        var runs = design.Methods.SelectMany(m => m.Runs).Select(r => r.Factors).ToList();
        var found = new List<KeyValuePair<string, object>>();
        foreach (var factor in Enum.GetValues<Factor>())
        {
            var values = runs.Where(r => r.Has(factor)).Select(r => factor == Factor.Case ? r.Case! : (object)r.Of(factor)!.Value)
                .Distinct().ToList();
            if (values.Count == 1)
            {
                found.Add(new(StableName.Of(factor), values[0]));
            }
        }

        return found;
    }
}
