using ChargeAudit.Logs.Columns;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Doubts about header words. A word that means different things, in its own language or in two that know the header equally well, is
/// doubted where no unit is given beside it and fewer than two other columns speak the language.
/// </summary>
internal static class HeaderDoubts
{
    // So many cells in one language leave no doubt about it.
    private const int Certain = 3;

    /// <summary>Adds the doubts about the columns that are used.</summary>
    public static void Add(ColumnFinder.Found found)
    {
        if (found.Languages.Count == 0 || found.Languages[0].Cells >= Certain)
        {
            return;
        }

        foreach (LogColumn column in found.Columns.Where(c => c.Quantity != LogQuantity.Ignored && c.Why != ColumnFinder.ToldWhy))
        {
            var header = HeaderText.Parse(column.Header, [.. found.Languages.Select(l => l.Language)]);
            if (header.Unit is null && Doubt(header.Name, found) is string doubt)
            {
                found.Ambiguities.Add(
                    $"Column {LogErrors.Quote(column.Header)} was taken for {ColumnFinder.Word(column.Quantity)}: {doubt}.");
            }
        }
    }

    /// <summary>The language of the header, for people; null where its words are signs or none.</summary>
    public static string? Language(ColumnFinder.Found found)
    {
        int most = found.Languages.Count == 0 ? 0 : found.Languages[0].Cells;
        string[] names = [.. found.Languages.Where(l => l.Cells == most && most > 0).Select(l => l.Language.Name)];
        return names.Length == 0 ? null : names[0] == "English" ? names[0] : string.Join(" or ", names);
    }

    private static string? Doubt(string name, ColumnFinder.Found found)
    {
        HeaderLanguage? own = found.Languages.Select(l => l.Language)
            .FirstOrDefault(l => HeaderWords.FindOnlyIn(l, name) != LogQuantity.Ignored);
        if (own is null)
        {
            return null;
        }

        if (own.Doubts.TryGetValue(PlainText.Fold(name.Trim()), out string? sentence))
        {
            return sentence;
        }

        LogQuantity meant = HeaderWords.FindOnlyIn(own, name);
        foreach (var (other, cells) in found.Languages)
        {
            LogQuantity otherwise = HeaderWords.FindOnlyIn(other, name);
            if (cells == found.Languages[0].Cells && otherwise != LogQuantity.Ignored && otherwise != meant)
            {
                return $"its header was read as {own.Name}; in {other.Name} it names {ColumnFinder.Word(otherwise)}";
            }
        }

        return null;
    }
}
