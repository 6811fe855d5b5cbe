using System.Text;
using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Page;

/// <summary>Names of files as people know them. None is ever a path.</summary>
public static class PageName
{
    private const int Longest = 120;

    /// <summary>The name to show for a name that was sent.</summary>
    /// <param name="sent">The name as sent, percent-encoded; null where none was.</param>
    /// <param name="taken">Names that are in use.</param>
    public static string Of(string? sent, IReadOnlyCollection<string> taken)
    {
        ArgumentNullException.ThrowIfNull(taken);
        string decoded = Uri.UnescapeDataString(sent ?? "");
        string last = decoded[(decoded.LastIndexOfAny(['/', '\\']) + 1)..];
        var kept = new StringBuilder();
        foreach (var rune in last.EnumerateRunes())
        {
            if (!Rune.IsControl(rune) && rune != Rune.ReplacementChar
                && Rune.GetUnicodeCategory(rune) != System.Globalization.UnicodeCategory.Format)
            {
                kept.Append(rune.ToString());
            }
        }

        string name = kept.ToString().Trim();
        string ending = Path.GetExtension(name);
        ending = ending.Length <= 9 ? ending : "";
        string stem = name[..^ending.Length];
        stem = stem.Length > Longest ? $"{stem[..(char.IsHighSurrogate(stem[Longest - 1]) ? Longest - 1 : Longest)]}…" : stem;
        stem = stem.Trim('.').Length == 0 ? "log" : stem;
        string whole = stem + ending;
        for (int i = 2; taken.Contains(whole); i++)
        {
            whole = InvariantText.Of($"{stem} ({i}){ending}");
        }

        return whole;
    }

    /// <summary>The ending that the file on disk gets: one of those that logs have, or none.</summary>
    /// <param name="name">The name as people know it.</param>
    public static string Ending(string name)
    {
        string ending = Path.GetExtension(name).ToLowerInvariant();
        return Studies.Drafting.FolderFiles.IsLogEnding(ending) ? ending : ".txt";
    }
}
