using System.Globalization;
using System.IO.Compression;
using System.Text;
using ChargeAudit.Logs.Streams;
using ExcelDataReader;

namespace ChargeAudit.Logs.Formats;

/// <summary>Worksheets of Office Open XML workbooks (.xlsx).</summary>
/// <remarks>*Source:* ISO/IEC 29500-1, SpreadsheetML.</remarks>
internal sealed class SheetLog : ILogFormat
{
    private const long MostUnpackedBytes = 1L << 31;

    // What a worksheet can have. A file may say more, or place its last cell far off and so claim very many that are empty.
    private const int MostParts = 10_000;
    private const int MostRows = 1 << 20;
    private const long MostEmptyCells = 1L << 26;

    // The library asks for this code page even where it is not used.
    static SheetLog() => Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);

    public string Name => "xlsx";

    public bool Recognises(ReadOnlySpan<byte> head) => head.StartsWith("PK\u0003\u0004"u8);

    public FormatTable Open(IStoredLog source)
    {
        List<string> notes = [];
        string? sheet = ChooseSheet(source, notes);
        return sheet is null ? throw LogErrors.NoTable(source.Path) : new FormatTable(Rows(source, sheet), null, false, notes);
    }

    // The first sheet with at least two rows of two fields or more is the log: title pages and charts have none.
    private static string? ChooseSheet(IStoredLog source, List<string> notes)
    {
        string? chosen = null;
        List<string> others = [];
        Guard(source, reader =>
        {
            do
            {
                int rows = 0;
                var limits = new Limits(source.Path);
                while (rows < 2 && reader.Read())
                {
                    int filled = Enumerable.Range(0, limits.FieldsOf(reader)).Count(i => reader.GetValue(i) is not null);
                    limits.Count(reader.FieldCount - filled);
                    rows += filled >= 2 ? 1 : 0;
                }

                if (rows >= 2 && chosen is null)
                {
                    chosen = reader.Name;
                }
                else
                {
                    others.Add(reader.Name);
                }
            }
            while (reader.NextResult());
        });
        if (chosen is not null && others.Count > 0)
        {
            notes.Add($"Sheet {LogErrors.Quote(chosen)} was read, not {LogErrors.List(others)}.");
        }

        return chosen;
    }

    private static IEnumerable<string> Rows(IStoredLog source, string sheet)
    {
        using Stream raw = source.OpenRaw();
        using IExcelDataReader reader = Open(source, raw);
        while (reader.Name != sheet && reader.NextResult())
        {
        }

        var limits = new Limits(source.Path);
        while (Advance(source, reader))
        {
            var fields = new string[limits.FieldsOf(reader)];
            int empty = 0;
            for (int i = 0; i < fields.Length; i++)
            {
                fields[i] = Text(reader.GetValue(i));
                empty += fields[i].Length == 0 ? 1 : 0;
            }

            limits.Count(empty);

            yield return string.Join('\t', fields);
        }
    }

    private struct Limits(string path)
    {
        private int _rows;
        private long _empty;

        public readonly int FieldsOf(IExcelDataReader reader) => reader.FieldCount <= LogLimits.MostColumns
            ? reader.FieldCount
            : throw LogErrors.TooManyColumns(path, _rows + 1, reader.FieldCount, LogLimits.MostColumns);

        public void Count(int emptyCells)
        {
            _empty += emptyCells;
            if (++_rows > MostRows)
            {
                throw LogErrors.SheetTooLarge(path, "rows", MostRows);
            }

            if (_empty > MostEmptyCells)
            {
                throw LogErrors.SheetTooLarge(path, "empty cells", MostEmptyCells);
            }
        }
    }

    private static bool Advance(IStoredLog source, IExcelDataReader reader)
    {
        try
        {
            return reader.Read();
        }
        catch (Exception e) when (IsDamage(e))
        {
            throw LogErrors.Corrupt(source.Path, "a workbook", e);
        }
    }

    private static void Guard(IStoredLog source, Action<IExcelDataReader> look)
    {
        using Stream raw = source.OpenRaw();
        CheckSize(source, raw);
        try
        {
            using IExcelDataReader reader = Open(source, raw);
            look(reader);
        }
        catch (Exception e) when (IsDamage(e))
        {
            throw LogErrors.Corrupt(source.Path, "a workbook", e);
        }
    }

    private static IExcelDataReader Open(IStoredLog source, Stream raw)
    {
        try
        {
            raw.Position = 0;
            return ExcelReaderFactory.CreateOpenXmlReader(raw, new ExcelReaderConfiguration { LeaveOpen = true });
        }
        catch (Exception e) when (IsDamage(e))
        {
            throw LogErrors.Corrupt(source.Path, "a workbook", e);
        }
    }

    private static void CheckSize(IStoredLog source, Stream raw)
    {
        try
        {
            using var zip = new ZipArchive(raw, ZipArchiveMode.Read, leaveOpen: true);
            if (zip.GetEntry("xl/workbook.xml") is null)
            {
                throw LogErrors.Binary(source.Path);
            }

            if (zip.Entries.Count > MostParts
                || zip.Entries.Any(e => e.Length > MostUnpackedBytes
                || (e.Length > BombGuardStream.HarmlessBytes && e.Length / BombGuardStream.LargestRatio > e.CompressedLength)))
            {
                throw LogErrors.Bomb(source.Path);
            }

            SheetParts.Check(source, zip);
        }
        catch (Exception e) when (IsDamage(e))
        {
            throw LogErrors.Corrupt(source.Path, "a workbook", e);
        }
    }

    // The library reports damage in many ways; our own exceptions pass through.
    private static bool IsDamage(Exception e) =>
        e is not (Metrology.Diagnostics.InputException or OperationCanceledException or OutOfMemoryException);

    private static string Text(object? value) => value switch
    {
        null => "",
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        DateTime { Year: < 1901 } clock => clock.ToString("HH:mm:ss.fffffff", CultureInfo.InvariantCulture),
        DateTime stamp => stamp.ToString("yyyy-MM-ddTHH:mm:ss.fffffff", CultureInfo.InvariantCulture),
        TimeSpan span =>
            $"{((long)span.TotalHours).ToString("00", CultureInfo.InvariantCulture)}:"
                + $"{span.ToString(@"mm\:ss\.fffffff", CultureInfo.InvariantCulture)}",
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => LineStream.Field(value.ToString() ?? ""),
    };
}
