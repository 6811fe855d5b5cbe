namespace ChargeAudit.Cli.Output;

/// <summary>Whether a table fits a terminal.</summary>
internal static class TableWidth
{
    /// <summary>Below this a cell that is broken over lines makes a table hard to read, so it becomes a list.</summary>
    public const int Narrow = 80;

    // A blank before the table and two between columns.
    private const int Edge = 1, Gap = 3;

    /// <summary>
    /// Whether a list must stand for it: where a word would be cut, or on a narrow terminal where any cell would need a second line.
    /// </summary>
    /// <param name="headers">The headings.</param>
    /// <param name="rows">The rows.</param>
    /// <param name="width">Columns of text in a line.</param>
    public static bool NeedsList(IReadOnlyList<string> headers, IReadOnlyList<IReadOnlyList<string>> rows, int width)
    {
        int room = width - Edge - (Gap * headers.Count);
        int words = 0, cells = 0;
        for (int i = 0; i < headers.Count; i++)
        {
            var column = rows.Select(r => r[i]).Append(headers[i]).ToList();
            words += column.Max(c => c.Split([' ', '\n']).Max(w => w.Length));
            cells += column.Max(c => c.Length);
        }

        return words > room || (width < Narrow && cells > room);
    }
}
