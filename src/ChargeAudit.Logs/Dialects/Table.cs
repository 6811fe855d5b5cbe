using ChargeAudit.Logs.Columns;
using ChargeAudit.Metrology.Diagnostics;
using TextLine = System.ReadOnlyMemory<char>;

namespace ChargeAudit.Logs.Dialects;

/// <summary>The table found in a text sample.</summary>
internal sealed record Table
{
    public required char Separator { get; init; }

    /// <summary>Line number of the header; null where there is none.</summary>
    public long? HeaderLine { get; init; }

    /// <summary>Line number of the first row that reads well.</summary>
    public required long FirstDataLine { get; init; }

    /// <summary>Line number from which every row is judged: the one below the header, so that damaged first rows are counted.</summary>
    public long JudgedFromLine => HeaderLine is long header ? header + (HasUnitRow ? 2 : 1) : FirstDataLine;

    /// <summary>Whether a row of units stands below the header.</summary>
    public required bool HasUnitRow { get; init; }

    public required int FieldCount { get; init; }

    /// <summary>Other numbers of fields that at least a tenth of the rows have: such a log leaves out empty fields at the end of a
    /// row.</summary>
    public required IReadOnlyList<int> OtherCounts { get; init; }

    /// <summary>Header fields; empty where there is no header.</summary>
    public required IReadOnlyList<string> Header { get; init; }

    /// <summary>Fields of the unit row under the header; empty where there is none.</summary>
    public required IReadOnlyList<string> Units { get; init; }

    /// <summary>Runs of rows that follow one another: first the head's, then one for each piece of the body.</summary>
    public required IReadOnlyList<SampleRows> Runs { get; init; }

    /// <summary>The columns that hold plain numbers only.</summary>
    public required PlainColumns Plain { get; init; }

    /// <summary>Rows that have a field for each name of the header.</summary>
    public IEnumerable<string[]> FullRows => Runs.SelectMany(r => r).Where(r => r.Length >= Header.Count);

    /// <summary>Fields of one column in all runs.</summary>
    public IEnumerable<string> Column(int index) => !Plain.AreRowsEven
        ? Runs.SelectMany(r => r).Where(r => index < r.Length).Select(r => r[index])
        : index < FieldCount ? FieldsOf([index]) : [];

    /// <summary>Fields of all columns that hold anything but plain numbers with a decimal point, row by row.</summary>
    public IEnumerable<string> OddFields() => !Plain.AreRowsEven
        ? Runs.SelectMany(r => r).SelectMany(r => r)
        : FieldsOf([.. Enumerable.Range(0, FieldCount).Where(i => Plain.At(i, (byte)'.') is null)]);

    private IEnumerable<string> FieldsOf(int[] columns)
    {
        foreach (SampleRows rows in columns.Length > 0 ? Runs : [])
        {
            for (int row = 0; row < rows.Count; row++)
            {
                foreach (int column in columns)
                {
                    yield return rows.Field(row, column).ToString();
                }
            }
        }
    }
}

/// <summary>Finds separator, header and first row of a table.</summary>
internal static class TableFinder
{
    private const int LinesForSeparator = 100;

    // Below these, the number of fields alone tells a row.
    private const int LinesForHeader = 200;

    // In this order where several fit equally well: a comma may be a decimal separator, and a blank stands in most dates.
    private static readonly char[] Separators = ['\t', ';', '|', ',', ' '];

    /// <summary>Finds the table.</summary>
    /// <param name="path">Name of the log.</param>
    /// <param name="sample">Its lines.</param>
    /// <param name="oneColumn">Whether a single column of readings is expected, as with a fixed interval.</param>
    /// <param name="told">Separator that metadata name.</param>
    /// <param name="skipLines">Lines at the beginning that metadata say are not part of the table.</param>
    public static Table Find(string path, TextSample sample, bool oneColumn, char? told, long skipLines = 0)
    {
        var lines = new List<(long Number, TextLine Text)>(sample.Head.Count);
        for (int i = 0; i < sample.Head.Count; i++)
        {
            if (i + 1 > skipLines && !sample.Head[i].Span.IsWhiteSpace())
            {
                lines.Add((i + 1, sample.Head[i]));
            }
        }

        if (lines.Count == 0)
        {
            throw LogErrors.Empty(path);
        }

        char hinted = told ?? '\0';
        if (lines[0].Text.Span.Trim() is { Length: 5 } first && lines[0].Text.Span.StartsWith("sep=", StringComparison.OrdinalIgnoreCase))
        {
            hinted = told ?? first[4];
            lines.RemoveAt(0);
        }

        var widest = (Number: 0L, Text: TextLine.Empty);
        foreach (var line in lines)
        {
            widest = line.Text.Length > widest.Text.Length ? line : widest;
        }

        int fields = Separators.Take(4).Max(s => widest.Text.Span.Count(s)) + 1;
        if (fields > LogLimits.MostColumns)
        {
            throw LogErrors.TooManyColumns(path, widest.Number, fields, LogLimits.MostColumns);
        }

        char separator = hinted != '\0' && Separators.Contains(hinted) ? hinted : Choose(lines, oneColumn);
        if (separator == '\0')
        {
            throw IsHeader(lines) ? LogErrors.NoRows(path) : NoTable(path, lines);
        }

        return Locate(path, lines, sample.Pieces, separator);
    }

    // A line or two of several words each: the names of columns, and perhaps their units.
    private static bool IsHeader(List<(long Number, TextLine Text)> lines) => lines.Count <= 2 && Separators.Take(4)
        .Any(s => lines.TrueForAll(l => Cells.Split(l.Text.Span, s) is { Length: > 1 } words
            && Array.TrueForAll(words, w => w.Trim().Length > 0)));

    private static InputException NoTable(string path, List<(long Number, TextLine Text)> lines) =>
        lines.Count > 0 && lines[0].Text.Span.TrimStart() is ['{' or '[', ..] ? LogErrors.NoJsonRecords(path) : LogErrors.NoTable(path);

    private static bool IsComment(TextLine text, char separator) =>
        TextMarks.IsComment(text.Span.TrimStart(), separator);

    private static char Choose(List<(long Number, TextLine Text)> lines, bool oneColumn)
    {
        // The last lines of the head are rows, wherever the table begins.
        List<TextLine> rows = [.. lines.Select(l => l.Text).TakeLast(LinesForSeparator)];
        char best = '\0';
        double bestScore = 0.2;
        foreach (char separator in Separators)
        {
            // A blank would take a date and its clock apart that a tab keeps together.
            if (separator == ' ' && best == '\t'
                && rows.Any(r => Cells.Split(r.Span, best).Any(f => f.Contains(' ', StringComparison.Ordinal) && Cells.IsTime(f))))
            {
                break;
            }

            double score = Score(rows, separator);
            if (score > bestScore + 0.02)
            {
                best = separator;
                bestScore = score;
            }
        }

        best = best is ' ' or '\0' ? ByHeader(lines) ?? best : best;
        return best != '\0' || !oneColumn ? best : ',';
    }

    // Words of a header tell the separator where blanks in the fields below look like one.
    private static char? ByHeader(List<(long Number, TextLine Text)> lines)
    {
        foreach (char separator in Separators.Where(s => s != ' '))
        {
            int usual = lines.Skip(1).Take(LinesForSeparator).Select(l => Cells.Split(l.Text.Span, separator).Length)
                .GroupBy(n => n).OrderByDescending(g => g.Count()).Select(g => g.Key).FirstOrDefault();
            if (usual > 1 && lines.Take(LinesForHeader).Select(l => Cells.Split(l.Text.Span, separator))
                .Any(f => f.Length == usual && HeaderWords.CountQuantities(f) >= 2))
            {
                return separator;
            }
        }

        return null;
    }

    private static double Score(List<TextLine> lines, char separator)
    {
        // Where no line can be taken apart, no row has two fields.
        TextLine[] plain = [.. lines.Where(l => !IsComment(l, separator))];
        List<string[]> rows = Array.Exists(plain, l => l.Span.Contains(separator) || (separator == ' ' && l.Span.Contains('\t')))
            ? [.. plain.Select(l => Cells.Split(l.Span, separator))]
            : [];
        if (rows.Count == 0)
        {
            return 0;
        }

        int usual = UsualCount(rows, separator);
        List<string[]> fitting = [.. rows.Where(r => r.Length == usual)];
        if (usual < 2)
        {
            return 0;
        }

        double cells = fitting.Sum(r => r.Count(c => c.Length > 0));
        double readable = fitting.Sum(r => r.Count(c => Cells.IsReadable(c, separator)));
        // A log may hold any number of columns of text beside its three of readings.
        double share = cells == 0 ? 0 : ((readable / cells) + Math.Min(1, readable / fitting.Count / 3)) / 2;
        return share * fitting.Count / rows.Count;
    }

    // The number of fields that most rows with a reading in them have.
    private static int UsualCount(List<string[]> rows, char separator)
    {
        List<string[]> readings = [.. rows.Where(r => r.Any(c => Cells.IsReadable(c, separator)))];
        return readings.Count == 0
            ? 0
            : readings.GroupBy(r => r.Length).OrderByDescending(g => g.Count()).ThenByDescending(g => g.Key).First().Key;
    }

    private static Table Locate(string path, List<(long Number, TextLine Text)> lines, IReadOnlyList<IReadOnlyList<TextLine>> pieces,
        char separator)
    {
        List<(long Number, TextLine Text)> plain = lines.FindAll(l => !IsComment(l.Text, separator));
        var counts = new int[plain.Count];
        var rowsOf = new Dictionary<int, int>();
        for (int i = 0; i < counts.Length; i++)
        {
            counts[i] = Cells.Count(plain[i].Text.Span, separator);
            rowsOf[counts[i]] = rowsOf.GetValueOrDefault(counts[i]) + 1;
        }

        int usual = UsualCount([.. plain.TakeLast(LinesForSeparator).Select(l => Cells.Split(l.Text.Span, separator))], separator);
        HashSet<int> lengths = [usual, .. rowsOf.Where(n => n.Key > 1 && n.Value >= 0.1 * counts.Length).Select(n => n.Key)];
        var readable = new int[counts.Length];
        for (int i = 0; i < counts.Length; i++)
        {
            readable[i] = !lengths.Contains(counts[i]) ? 0 : i < LinesForHeader
                ? Cells.Split(plain[i].Text.Span, separator).Count(c => Cells.IsReadable(c, separator))
                : usual;
        }

        int typical = readable.Take(LinesForHeader).Where(n => n > 0).OrderBy(n => n)
            .Skip(readable.Take(LinesForHeader).Count(n => n > 0) / 2).FirstOrDefault();
        bool IsRow(int i) => readable[i] > 0 && readable[i] >= 0.6 * typical;
        int first = Enumerable.Range(0, counts.Length).Where(IsRow).FirstOrDefault(
            i => Enumerable.Range(i, Math.Min(5, counts.Length - i)).Count(IsRow) >= 0.7 * Math.Min(5, counts.Length - i), -1);
        if (first < 0)
        {
            throw usual > 0 || IsHeader(lines) ? LogErrors.NoRows(path) : NoTable(path, lines);
        }

        var (headerLine, header, units) = FindHeader(lines, plain[first].Number, usual, separator);
        SampleRows[] runs =
        [
            new(Rows(), separator),
            .. pieces.Select(p => new SampleRows([.. p.Where(l => lengths.Contains(Cells.Count(l.Span, separator)))], separator)),
        ];
        return new Table
        {
            Separator = separator,
            HeaderLine = headerLine,
            FirstDataLine = plain[first].Number,
            FieldCount = usual,
            OtherCounts = [.. lengths.Where(n => n != usual)],
            Header = header,
            Units = units,
            HasUnitRow = units.Count > 0,
            Runs = runs,
            Plain = new PlainColumns(runs, usual, separator),
        };

        List<TextLine> Rows()
        {
            var rows = new List<TextLine>(counts.Length);
            for (int i = first; i < counts.Length; i++)
            {
                if (IsRow(i))
                {
                    rows.Add(plain[i].Text);
                }
            }

            return rows;
        }
    }

    private static (long? Line, IReadOnlyList<string> Header,
        IReadOnlyList<string> Units) FindHeader(List<(long Number, TextLine Text)> lines, long firstDataLine, int usual, char separator)
    {
        List<(long Number, string[] Fields)> above = [];
        bool spoilt = false;
        foreach (var (number, text) in lines.Where(l => l.Number < firstDataLine).Reverse().Take(20))
        {
            // A header may stand in a comment: "# time voltage current".
            ReadOnlySpan<char> line = IsComment(text, separator) ? text.Span.Trim().TrimStart("#%/;").Trim() : text.Span;
            string[] fields = Cells.Split(line, separator);
            if (TextMarks.IsRule(fields))
            {
                continue;
            }

            bool fits = fields.Length == usual || (fields.Length == usual + 1 && fields[^1].Length == 0)
                || (fields.Length == usual - 1 && usual > 2);
            if (fits && !fields.Any(f => Cells.IsReadable(f, separator)) && (!spoilt || HeaderWords.CountQuantities(fields) >= 2))
            {
                above.Add((number, fields));
            }
            else if (!IsComment(text, separator))
            {
                // A first row that is cut or damaged must not hide the header above it.
                if (above.Count > 0)
                {
                    break;
                }

                spoilt = true;
            }
        }

        if (above.Count == 0)
        {
            return (null, [], []);
        }

        // Rows of data types between header and readings are passed over.
        int types = above.Count > 1 ? above.RemoveAll(a => TextMarks.IsTypeRow(a.Fields)) : 0;
        if (above.Count == 0)
        {
            return (null, [], []);
        }

        bool unitRow = above.Count > 1 && above[1].Number >= above[0].Number - 1 - types && TextMarks.IsUnitRow(above[0].Fields)
            && !TextMarks.IsUnitRow(above[1].Fields);
        return unitRow ? (above[1].Number, above[1].Fields, above[0].Fields) : (above[0].Number, above[0].Fields, []);
    }
}
