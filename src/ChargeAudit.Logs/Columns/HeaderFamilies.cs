using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Columns;

/// <summary>
/// Headers with one beginning, as nested data and some loggers write them: <c>ENERGY.Power</c>, <c>ENERGY.Voltage</c>. Where the beginning
/// names a quantity and what follows names different ones, what follows says what a column holds.
/// </summary>
internal static class HeaderFamilies
{
    private static readonly char[] Ends = ['.', '_', '/', ':', ' '];

    /// <summary>The text of each header that says what the column holds.</summary>
    public static string[] Texts(IReadOnlyList<string> header, IReadOnlyList<HeaderLanguage> languages)
    {
        string[] texts = [.. header];
        var families = Enumerable.Range(0, header.Count).Select(i => (Index: i, Cut: CutOf(header[i]))).Where(h => h.Cut > 0)
            .GroupBy(h => header[h.Index][..h.Cut], StringComparer.OrdinalIgnoreCase);
        foreach (var family in families.Where(f => HeaderText.Parse(f.Key, languages).Quantity != LogQuantity.Ignored))
        {
            var rests = family.Select(h => (h.Index, Text: header[h.Index][(h.Cut + 1)..]))
                .Select(r => (r.Index, r.Text, HeaderText.Parse(r.Text, languages).Quantity))
                .Where(r => r.Quantity >= LogQuantity.Voltage).ToList();
            if (rests.Select(r => r.Quantity).Distinct().Count() > 1)
            {
                rests.ForEach(r => texts[r.Index] = r.Text);
            }
        }

        return texts;
    }

    // A path is cut at its last point, other names after their first word.
    private static int CutOf(string header)
    {
        int point = header.LastIndexOf('.');
        int cut = point > 0 && char.IsLetter(header[point - 1]) ? point : header.AsSpan().Trim().IndexOfAny(Ends);
        return cut < header.Length - 1 ? cut : -1;
    }
}
