using System.Globalization;
using System.IO.Compression;
using System.Xml;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Formats;

/// <summary>
/// Goes once through the parts of a workbook before its reader does, which holds whole texts, rows and tables of texts: whatever is longer
/// or more than a log needs is refused before it is held.
/// </summary>
/// <remarks>*Source:* ISO/IEC 29500-1, SpreadsheetML (row, c, si, sst); ISO/IEC 29500-2, 9.1 and annex on markup (parts are UTF-8 or
/// UTF-16).</remarks>
internal static class SheetParts
{
    // As texts they take twice as much, and an object each.
    private const long MostSharedChars = 48L << 20;
    private const int MostSharedTexts = 1 << 21;
    private const int MostOthers = 1 << 20;
    private const int MostOutsideRows = 100_000;

    // Of a worksheet.
    private const int MostLetters = 3;
    private const int MostColumns = 16_384;
    private const int MostRows = 1 << 20;

    private static readonly string[] Binary = ["xl/workbook.bin", "xl/sharedStrings.bin", "xl/styles.bin"];
    private static readonly string[] Unread = [".png", ".jpg", ".jpeg", ".gif", ".bmp", ".emf", ".wmf", ".tif", ".tiff", ".svg", ".bin",
        ".vml"];

    public static void Check(IStoredLog source, ZipArchive zip)
    {
        foreach (ZipArchiveEntry entry in zip.Entries)
        {
            if (Binary.Contains(entry.FullName, StringComparer.OrdinalIgnoreCase))
            {
                throw LogErrors.Binary(source.Path);
            }

            if (entry.Length > 0 && !Unread.Contains(Path.GetExtension(entry.FullName), StringComparer.OrdinalIgnoreCase))
            {
                Check(source.Path, entry);
            }
        }
    }

    private static void Check(string path, ZipArchiveEntry entry)
    {
        using Stream part = entry.Open();
        using MarkupGuard guard = MarkupGuard.Of(part, path);
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            IgnoreComments = true,
            IgnoreProcessingInstructions = true,
            NameTable = new BoundedNames(path),
        };
        using var xml = XmlReader.Create(guard, settings);
        int row = 0;
        int cells = 0;
        int outside = 0;
        int others = 0;
        int shared = 0;
        bool isSheet = false;
        while (xml.Read())
        {
            RequireUnicode(xml);
            if (xml.NodeType != XmlNodeType.Element)
            {
                continue;
            }

            switch (xml.LocalName)
            {
                case "sheetData":
                    isSheet = true;
                    break;
                case "row":
                    isSheet = true;
                    row++;
                    cells = 0;
                    RequireReference(xml, "r");
                    break;
                case "c" when isSheet:
                    RequireReference(xml, "r");
                    Few(++cells <= LogLimits.MostColumns, () => LogErrors.TooManyColumns(path, row, cells, LogLimits.MostColumns));
                    break;
                case "si":
                    Few(++shared <= MostSharedTexts, () => LogErrors.SheetTooLarge(path, "texts", MostSharedTexts));
                    break;
                case "mergeCell" or "col" or "hyperlink" or "cfRule" or "brk":
                    RequireReference(xml, "ref");
                    RequireReference(xml, "min");
                    RequireReference(xml, "max");
                    Few(++outside <= MostOutsideRows,
                        () => LogErrors.SheetTooLarge(path, "merged cells, columns or links", MostOutsideRows));
                    break;
                case "dimension":
                    RequireReference(xml, "ref");
                    break;
                case "Relationship":
                    RequireMarkup(path, xml);
                    break;
                default:
                    Few(isSheet || shared > 0 || ++others <= MostOthers, () => LogErrors.SheetTooLarge(path, "parts", MostOthers));
                    break;
            }

            Few(shared == 0 || guard.Count <= MostSharedChars, () => LogErrors.SheetTooLarge(path, "characters of text", MostSharedChars));
        }
    }

    // The reader of the workbook reads the bytes anew: another encoding would give it another document than the one that was looked at.
    private static void RequireUnicode(XmlReader xml)
    {
        if (xml.NodeType == XmlNodeType.XmlDeclaration && xml.GetAttribute("encoding") is { } encoding
            && !encoding.StartsWith("utf-8", StringComparison.OrdinalIgnoreCase)
            && !encoding.StartsWith("utf-16", StringComparison.OrdinalIgnoreCase))
        {
            throw new InvalidDataException($"a part is written in {encoding}");
        }
    }

    // Room is made up to the last cell that is named: A1, A1:XFD1048576, a row or a column by its number.
    private static void RequireReference(XmlReader xml, string attribute)
    {
        string? said = xml.GetAttribute(attribute);
        if (said is not null && !said.Split(':').All(IsReference))
        {
            throw new InvalidDataException($"it names a cell that no worksheet has, {said}");
        }
    }

    private static bool IsReference(string said)
    {
        string plain = said.Replace("$", "", StringComparison.Ordinal);
        int letters = plain.TakeWhile(char.IsAsciiLetterUpper).Count();
        int column = letters > MostLetters ? int.MaxValue : plain[..letters].Aggregate(0, (sum, c) => (sum * 26) + c - 'A' + 1);
        return column <= MostColumns
            && (letters == plain.Length
            || (int.TryParse(plain.AsSpan(letters), NumberStyles.None, CultureInfo.InvariantCulture, out int row) && row <= MostRows));
    }

    private static void RequireMarkup(string path, XmlReader xml)
    {
        string type = xml.GetAttribute("Type") ?? "";
        bool isRead = type.EndsWith("/worksheet", StringComparison.OrdinalIgnoreCase)
            || type.EndsWith("/sharedStrings", StringComparison.OrdinalIgnoreCase)
            || type.EndsWith("/styles", StringComparison.OrdinalIgnoreCase);
        if (isRead && Unread.Contains(Path.GetExtension(xml.GetAttribute("Target") ?? ""), StringComparer.OrdinalIgnoreCase))
        {
            throw LogErrors.Binary(path);
        }
    }

    private static void Few(bool few, Func<Exception> refusal)
    {
        if (!few)
        {
            throw refusal();
        }
    }
}
