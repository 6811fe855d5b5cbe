using System.Text.Json;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Formats;

/// <summary>JSON: an array of records, an array of rows, or a record in each line.</summary>
/// <remarks>*Source:* RFC 8259 (JSON). A record in each line has no standard; common practice.</remarks>
internal sealed class JsonLog : ILogFormat
{
    // Names that first appear later make a row longer, and are counted there.
    private const int RecordsForNames = 1000;
    private const int FirstLook = 1 << 16;

    public string Name => "json";

    public bool Recognises(ReadOnlySpan<byte> head)
    {
        ReadOnlySpan<byte> text = (head.StartsWith("\uFEFF"u8) ? head[3..] : head).TrimStart(" \t\r\n"u8);
        if (text.IsEmpty || text[0] is not ((byte)'{' or (byte)'['))
        {
            return false;
        }

        ReadOnlySpan<byte> next = text[1..].TrimStart(" \t\r\n"u8);
        return !next.IsEmpty && (text[0] == '{' ? next[0] is (byte)'"' or (byte)'}' : next[0] is (byte)'{' or (byte)'[');
    }

    public FormatTable Open(IStoredLog source)
    {
        bool lines = HasRecords(source);
        List<string> names = [];
        var known = new HashSet<string>(StringComparer.Ordinal);
        using (Stream raw = source.OpenRaw())
        {
            var records = new JsonRecords(source.Path, raw, lines);
            for (int i = 0; i < RecordsForNames && records.Next() is { } record; i++)
            {
                names.AddRange(record.Select(f => f.Name).Where(known.Add));
            }
        }

        if (names.Count == 0)
        {
            throw LogErrors.NoJsonRecords(source.Path);
        }

        if (names.Count > LogLimits.MostColumns)
        {
            throw LogErrors.TooManyColumns(source.Path, 1, names.Count, LogLimits.MostColumns);
        }

        return new FormatTable(Rows(source, lines, names), null, false, []);
    }

    private static IEnumerable<string> Rows(IStoredLog source, bool lines, List<string> names)
    {
        yield return string.Join('\t', names.Select(LineStream.Field));
        var order = names.Select((n, i) => (n, i)).ToDictionary(n => n.n, n => n.i, StringComparer.Ordinal);
        using Stream raw = source.OpenRaw();
        var records = new JsonRecords(source.Path, raw, lines);
        var row = new List<string>();
        while (records.Next() is { } record)
        {
            row.Clear();
            row.AddRange(Enumerable.Repeat("", names.Count));
            foreach (var (name, value) in record)
            {
                if (order.TryGetValue(name, out int at))
                {
                    row[at] = LineStream.Field(value);
                }
                else
                {
                    row.Add(LineStream.Field(value));
                }
            }

            yield return string.Join('\t', row);
        }
    }

    // Objects that follow one another are records. One alone is a record, too, unless it holds an array of objects or rows: then those are.
    private static bool HasRecords(IStoredLog source)
    {
        byte[] head = new byte[FirstLook];
        using Stream raw = source.OpenRaw();
        ReadOnlySpan<byte> text = head.AsSpan(0, raw.ReadAtLeast(head, head.Length, throwOnEndOfStream: false));
        text = text.StartsWith("\uFEFF"u8) ? text[3..] : text;
        try
        {
            var reader = new Utf8JsonReader(text, new JsonReaderOptions
            {
                AllowMultipleValues = true,
                CommentHandling = JsonCommentHandling.Skip,
                AllowTrailingCommas = true,
            });
            if (!reader.Read() || reader.TokenType != JsonTokenType.StartObject)
            {
                return false;
            }

            bool hasRows = false;
            var before = JsonTokenType.None;
            while (reader.CurrentDepth > 0 || reader.TokenType != JsonTokenType.EndObject)
            {
                if (!reader.Read())
                {
                    return false;
                }

                hasRows |= before == JsonTokenType.StartArray && reader.TokenType is JsonTokenType.StartObject or JsonTokenType.StartArray;
                before = reader.TokenType;
            }

            ReadOnlySpan<byte> rest = text[(int)reader.BytesConsumed..].TrimStart(" \t\r\n"u8);
            return !hasRows || rest.StartsWith("{"u8);
        }
        catch (JsonException)
        {
            return false;
        }
    }
}
