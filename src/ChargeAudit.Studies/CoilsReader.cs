using ChargeAudit.Coils;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads <c>[methods.NAME.coils]</c>: what is known about a pad's and its receiver's coil.</summary>
internal static class CoilsReader
{
    /// <summary>The coils of a method; null where the study says nothing about them.</summary>
    public static CoilData? Of(MethodKind kind, TomlTableReader method)
    {
        if (method.Table("coils") is not { } table)
        {
            return null;
        }

        if (kind == MethodKind.Wired)
        {
            throw table.Refuse(table.Line,
                $"[{table.Path}] describes coils, and the method charges by cable; remove the table, or set kind = \"inductive\"");
        }

        Dictionary<string, string> entries = [];
        foreach (var (key, _) in CoilData.Keys)
        {
            if (table.Text(key) is { } text)
            {
                entries.Add(key, text);
            }
        }

        table.Finish();
        var data = Read(entries, table);
        return data.Link is not null
            ? data
            : throw table.Refuse(table.Line,
                $"[{table.Path}] does not say enough for the best efficiency of the coils; {string.Join(", ", data.Missing)} is missing");
    }

    // On a command line a wrong value is wrong usage; in a file it is an input that cannot be used, and has a line.
    private static CoilData Read(Dictionary<string, string> entries, TomlTableReader table)
    {
        try
        {
            return CoilData.Read(entries, $"[{table.Path}]");
        }
        catch (InputException e)
        {
            string? named = entries.Keys.FirstOrDefault(k => e.Message.Contains($"'{k}'", StringComparison.Ordinal));
            throw table.Refuse(named is null ? table.Line : table.LineOf(named), e.Message.TrimEnd('.'));
        }
    }
}
