using System.Globalization;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Metrology;
using SQLitePCL;

namespace ChargeAudit.Logs.Formats;

/// <summary>SQLite databases that hold one table of readings. They are opened read-only, and none of their views, triggers or computed
/// columns is run.</summary>
/// <remarks>*Source:* SQLite, Database File Format, 1.3 (header); URI Filenames, <c>immutable</c>; Defense Against The Dark Arts.</remarks>
internal sealed class SqliteLog : ILogFormat
{
    private const int LongestValue = 1 << 20;
    private const int MostTables = 1000;

    // Native code that only such a file needs; other logs are read without it.
    private static readonly Lazy<bool> Engine = new(() =>
    {
        Batteries_V2.Init();
        return true;
    });

    public string Name => "sqlite";

    public bool Recognises(ReadOnlySpan<byte> head) => head.StartsWith("SQLite format 3\0"u8);

    public FormatTable Open(IStoredLog source)
    {
        using sqlite3 database = OpenFile(source);
        List<(string Name, List<string> Columns)> tables = [];
        foreach (
            string name in Texts(source, database,
            "SELECT name FROM sqlite_schema WHERE type = 'table' AND sql LIKE 'CREATE TABLE%' AND name NOT LIKE 'sqlite_%' LIMIT "
            + $"{MostTables}", 0))
        {
            tables.Add((name, [.. Texts(source, database, $"PRAGMA table_info({Quoted(name)})", 1)]));
        }

        var readings = tables.Where(t => t.Columns.Count >= 2 && (tables.Count == 1 || HoldsReadings(t.Columns))).ToList();
        if (readings.Count != 1)
        {
            throw LogErrors.NoSqliteTable(source.Path, [.. (readings.Count > 1 ? readings : tables).Select(t => t.Name)], readings.Count);
        }

        string[] notes = tables.Count > 1
            ? [$"Table {LogErrors.Quote(readings[0].Name)} was read, not "
            + $"{LogErrors.List(tables.Where(t => t.Name != readings[0].Name).Select(t => t.Name))}."]
            : [];
        return new FormatTable(Rows(source, readings[0].Name, readings[0].Columns), null, false, notes);
    }

    // Two quantities, or a value with a time, as the columns of a table of readings name them.
    private static bool HoldsReadings(List<string> columns) =>
        HeaderWords.CountQuantities(columns) >= 2
        || (columns.Exists(c => HeaderWords.IsOnly(c, "value"))
            && columns.Exists(c => HeaderText.Parse(c).Quantity is LogQuantity.Time or LogQuantity.Date));

    private static IEnumerable<string> Rows(IStoredLog source, string table, List<string> columns)
    {
        yield return string.Join('\t', columns.Select(LineStream.Field));
        using sqlite3 database = OpenFile(source);
        using sqlite3_stmt query = Prepare(source, database, $"SELECT {string.Join(", ", columns.Select(Quoted))} FROM {Quoted(table)}");
        var fields = new string[columns.Count];
        while (Step(source, database, query))
        {
            for (int i = 0; i < fields.Length; i++)
            {
                fields[i] = raw.sqlite3_column_type(query, i) switch
                {
                    raw.SQLITE_INTEGER => raw.sqlite3_column_int64(query, i).ToString(CultureInfo.InvariantCulture),
                    raw.SQLITE_FLOAT => raw.sqlite3_column_double(query, i).ToString("R", CultureInfo.InvariantCulture),
                    raw.SQLITE_TEXT => LineStream.Field(raw.sqlite3_column_text(query, i).utf8_to_string()),
                    _ => "",
                };
            }

            yield return string.Join('\t', fields);
        }
    }

    private static List<string> Texts(IStoredLog source, sqlite3 database, string sql, int column)
    {
        List<string> texts = [];
        using sqlite3_stmt query = Prepare(source, database, sql);
        while (Step(source, database, query))
        {
            texts.Add(raw.sqlite3_column_text(query, column).utf8_to_string() ?? "");
        }

        return texts;
    }

    // Nothing is written beside the file, and no lock is taken: so rows that are still in a write-ahead log would be missed.
    private static sqlite3 OpenFile(IStoredLog source)
    {
        string path;
        using (Stream stored = source.OpenRaw())
        {
            path = ((FileStream)stored).Name;
        }

        if (new FileInfo(path + "-wal") is { Exists: true, Length: > 0 }
            || new FileInfo(path + "-journal") is { Exists: true, Length: > 0 })
        {
            throw LogErrors.SqliteInUse(source.Path);
        }

        string address = new Uri(Path.GetFullPath(path)).AbsoluteUri.Replace("?", "%3f", StringComparison.Ordinal) + "?immutable=1&mode=ro";
        _ = Engine.Value;
        int result = raw.sqlite3_open_v2(address, out sqlite3 database,
            raw.SQLITE_OPEN_READONLY | raw.SQLITE_OPEN_URI | raw.SQLITE_OPEN_NOMUTEX, null);
        if (result != raw.SQLITE_OK)
        {
            throw Damaged(source, database);
        }

        raw.sqlite3_limit(database, raw.SQLITE_LIMIT_LENGTH, LongestValue);
        raw.sqlite3_exec(database, "PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0");
        return database;
    }

    private static sqlite3_stmt Prepare(IStoredLog source, sqlite3 database, string sql) =>
        raw.sqlite3_prepare_v2(database, sql, out sqlite3_stmt query) == raw.SQLITE_OK ? query : throw Damaged(source, database);

    private static bool Step(IStoredLog source, sqlite3 database, sqlite3_stmt query) => raw.sqlite3_step(query) switch
    {
        raw.SQLITE_ROW => true,
        raw.SQLITE_DONE => false,
        _ => throw Damaged(source, database),
    };

    private static Metrology.Diagnostics.InputException Damaged(IStoredLog source, sqlite3 database) =>
        LogErrors.Corrupt(source.Path, "SQLite", new InvalidDataException(raw.sqlite3_errmsg(database).utf8_to_string()));

    private static string Quoted(string name) => $"\"{name.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
