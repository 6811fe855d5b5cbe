using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Formats;

/// <summary>Spreadsheets of the OpenDocument format (.ods): the first sheet that holds a table.</summary>
/// <remarks>*Source:* ISO/IEC 26300 (OpenDocument 1.2), 9.1 (tables), 19.385 and 19.389 (values), 17.4 of part 3 (the mimetype comes first,
/// stored).</remarks>
internal sealed class OdsLog : ILogFormat
{
    private const string Table = "urn:oasis:names:tc:opendocument:xmlns:table:1.0";
    private const string Office = "urn:oasis:names:tc:opendocument:xmlns:office:1.0";
    private const string TextSpace = "urn:oasis:names:tc:opendocument:xmlns:text:1.0";

    // What a sheet can have; a longer text than this is not a reading.
    private const int MostRows = 1 << 20;
    private const int LongestText = 4096;
    private const long MostUnpackedBytes = 1L << 31;

    public string Name => "ods";

    public bool Recognises(ReadOnlySpan<byte> head) =>
        head.StartsWith("PK\u0003\u0004"u8) && head.Length > 100
            && head[30..].StartsWith("mimetypeapplication/vnd.oasis.opendocument.spreadsheet"u8);

    public FormatTable Open(IStoredLog source)
    {
        // The first sheet with at least two rows of two fields or more is the log.
        List<(string Name, int Rows)> sheets = [];
        foreach (var (sheet, name, fields) in Rows(source))
        {
            while (sheets.Count <= sheet)
            {
                sheets.Add((name, 0));
            }

            if (fields.Count(f => f.Length > 0) >= 2 && sheets[sheet].Rows < 2)
            {
                sheets[sheet] = (name, sheets[sheet].Rows + 1);
            }

            if (sheets[sheet].Rows >= 2)
            {
                break;
            }
        }

        int chosen = sheets.FindIndex(s => s.Rows >= 2);
        if (chosen < 0)
        {
            throw LogErrors.NoTable(source.Path);
        }

        string[] notes = chosen > 0
            ? [$"Sheet {LogErrors.Quote(sheets[chosen].Name)} was read, not {LogErrors.List(sheets.Take(chosen).Select(s => s.Name))}."]
            : [];
        return new FormatTable(Rows(source).SkipWhile(r => r.Sheet < chosen).TakeWhile(r => r.Sheet == chosen)
            .Select(r => string.Join('\t', r.Fields)), null, false, notes);
    }

    private static IEnumerable<(int Sheet, string Name, List<string> Fields)> Rows(IStoredLog source)
    {
        using Stream raw = source.OpenRaw();
        using ZipArchive zip = Guard(source, () => new ZipArchive(raw, ZipArchiveMode.Read));
        ZipArchiveEntry content = zip.GetEntry("content.xml") ?? throw LogErrors.Binary(source.Path);
        if (content.Length > MostUnpackedBytes
            || (content.Length > BombGuardStream.HarmlessBytes && content.Length / BombGuardStream.LargestRatio > content.CompressedLength))
        {
            throw LogErrors.Bomb(source.Path);
        }

        using var unpacked = new BombGuardStream(Guard(source, content.Open), raw, source.Path, _ => true, "a workbook");
        using var xml = XmlReader.Create(unpacked, new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            MaxCharactersFromEntities = 1,
            MaxCharactersInDocument = MostUnpackedBytes,
            IgnoreComments = true,
        });
        int sheet = -1;
        string name = "";
        int rows = 0;
        int empty = 0;
        while (Guard(source, xml.Read))
        {
            if (xml.NodeType != XmlNodeType.Element || xml.NamespaceURI != Table)
            {
                continue;
            }

            if (xml.LocalName == "table")
            {
                (sheet, name, rows, empty) = (sheet + 1, xml.GetAttribute("name", Table) ?? "", 0, 0);
            }
            else if (xml.LocalName == "table-row" && sheet >= 0)
            {
                int repeated = Count(xml, "number-rows-repeated");
                List<string> fields = Guard(source, () => Row(source.Path, xml, rows));
                if (fields.Count == 0)
                {
                    empty = Math.Min(empty + repeated, MostRows);
                    continue;
                }

                rows += empty + repeated;
                if (rows > MostRows)
                {
                    throw LogErrors.SheetTooLarge(source.Path, "rows", MostRows);
                }

                for (; empty > 0; empty--)
                {
                    yield return (sheet, name, []);
                }

                for (int i = 0; i < repeated; i++)
                {
                    yield return (sheet, name, fields);
                }
            }
        }
    }

    private static List<string> Row(string path, XmlReader xml, int row)
    {
        var fields = new List<string>();
        int blanks = 0;
        if (xml.IsEmptyElement)
        {
            return fields;
        }

        int depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.NodeType != XmlNodeType.Element || xml.NamespaceURI != Table
                || xml.LocalName is not ("table-cell" or "covered-table-cell"))
            {
                continue;
            }

            int repeated = Count(xml, "number-columns-repeated");
            string text = Cell(xml);
            if (text.Length == 0)
            {
                blanks = Math.Min(blanks + repeated, MostRows);
                continue;
            }

            if (fields.Count + blanks + repeated > LogLimits.MostColumns)
            {
                throw LogErrors.TooManyColumns(path, row + 1, fields.Count + blanks + repeated, LogLimits.MostColumns);
            }

            fields.AddRange(Enumerable.Repeat("", blanks));
            fields.AddRange(Enumerable.Repeat(text, repeated));
            blanks = 0;
        }

        return fields;
    }

    private static string Cell(XmlReader xml)
    {
        string? type = xml.GetAttribute("value-type", Office);
        string? value = type switch
        {
            "float" or "percentage" or "currency" => xml.GetAttribute("value", Office),
            "date" => xml.GetAttribute("date-value", Office),
            "time" => Clock(xml.GetAttribute("time-value", Office)),
            _ => null,
        };
        string text = ShownText(xml);
        return LineStream.Field(value ?? text);
    }

    // The paragraphs of a cell; notes stand in cells as well and are not part of their text.
    private static string ShownText(XmlReader xml)
    {
        if (xml.IsEmptyElement)
        {
            return "";
        }

        var text = new StringBuilder();
        char[] chunk = new char[256];
        int depth = xml.Depth;
        int aside = int.MaxValue;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.NodeType == XmlNodeType.Element && xml.Depth <= aside)
            {
                aside = xml.NamespaceURI == Office && xml.LocalName == "annotation" ? xml.Depth : int.MaxValue;
                _ = xml.NamespaceURI == TextSpace && xml.LocalName == "s" ? text.Append(' ') : text;
            }

            if (xml.NodeType == XmlNodeType.Text && xml.Depth <= aside)
            {
                for (int read; text.Length < LongestText && (read = xml.ReadValueChunk(chunk, 0, chunk.Length)) > 0;)
                {
                    text.Append(chunk, 0, read);
                }
            }
        }

        return text.ToString();
    }

    // PT18H30M05.5S, which may go past a day.
    private static string? Clock(string? duration)
    {
        if (duration is null)
        {
            return null;
        }

        try
        {
            TimeSpan span = XmlConvert.ToTimeSpan(duration);
            return $"{((long)span.TotalHours).ToString("00", CultureInfo.InvariantCulture)}:"
                + $"{span.ToString(@"mm\:ss\.fffffff", CultureInfo.InvariantCulture)}";
        }
        catch (Exception e) when (e is FormatException or OverflowException)
        {
            return duration;
        }
    }

    private static int Count(XmlReader xml, string name) =>
        int.TryParse(xml.GetAttribute(name, Table), NumberStyles.None, CultureInfo.InvariantCulture, out int count)
            ? Math.Clamp(count, 1, MostRows + 1)
            : 1;

    private static T Guard<T>(IStoredLog source, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception e) when (e is InvalidDataException or XmlException or EndOfStreamException)
        {
            throw LogErrors.Corrupt(source.Path, "a workbook", e);
        }
    }
}
