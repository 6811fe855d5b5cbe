using System.Globalization;
using System.IO.Compression;
using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>Workbooks; written here by hand, part by part, so that no library checks itself.</summary>
public sealed class SheetLogTests
{
    [Fact]
    public void Dates_and_numbers_of_a_worksheet_are_read()
    {
        double day = new DateTime(2031, 5, 7, 18, 30, 0).ToOADate();
        byte[] book = Book(("log", [
            ["Invented bench supply"],
            [],
            ["Time", "Voltage (V)", "Current (mA)"],
            [day, 5.01, 500.0],
            [day + (1 / 86400.0), 5.02, 600.0],
            [day + (2 / 86400.0), 5.03, 700.0],
        ]));

        LogText.Read read = LogText.Of(book, name: "log.xlsx");

        Assert.Equal("xlsx", read.Layout.Format);
        Assert.Null(read.Layout.Dialect);
        Assert.Equal([0.0, 1, 2], read.Samples.Select(s => Math.Round(s.TimeS, 3)));
        Assert.Equal([5.01, 5.02, 5.03], read.Samples.Select(s => s.VoltageV));
        Assert.Equal([0.5, 0.6, 0.7], read.Samples.Select(s => Math.Round(s.CurrentA, 12)));
        Assert.Equal(new DateTime(2031, 5, 7, 18, 30, 0), read.Layout.Start!.Value.DateTime);
        Assert.Empty(read.Outcome.Faults);
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(book)), read.Outcome.Sha256);
        Assert.Equal(book.Length, read.Outcome.Bytes);
    }

    [Fact]
    public void The_first_sheet_with_a_table_is_taken_and_told()
    {
        byte[] book = Book(("cover", [["About this log"]]), ("data", [["t (s)", "P (W)"], [0.0, 5.0], [1.0, 6.0]]),
            ("more", [["a", "b"], [1.0, 2.0]]));

        LogText.Read read = LogText.Of(book, name: "log.xlsx");

        Assert.Equal([5.0, 6], read.Samples.Select(s => s.PowerW));
        Assert.Contains("Sheet \"data\" was read, not \"cover\", \"more\".", read.Layout.Notes);
    }

    [Fact]
    public void A_cell_that_is_no_number_is_a_fault_in_its_row()
    {
        byte[] book = Book(("data", [["t (s)", "P (W)", "U (V)"], [0.0, 5.0, 5.0], [1.0, "broken", 5.0], [2.0, 6.0, 5.0]]));

        LogText.Read read = LogText.Of(book, name: "log.xlsx");

        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal((FaultKind.UnreadableField, 3L), (fault.Kind, fault.FirstLine));
    }

    [Fact]
    public void Another_archive_is_no_workbook()
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            zip.CreateEntry("readme.txt");
        }

        InputException refused = Assert.Throws<InputException>(() => LogText.Of(bytes.ToArray(), name: "log.xlsx"));

        Assert.Contains("log.xlsx is empty", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cut_workbook_is_refused()
    {
        byte[] book = Book(("data", [["t (s)", "P (W)"], [0.0, 5.0], [1.0, 6.0]]));

        InputException refused = Assert.Throws<InputException>(() => LogText.Of(book[..(book.Length / 2)], name: "log.xlsx"));

        Assert.Contains("log.xlsx begins as a workbook but cannot be unpacked", refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(
        "<row r=\"1\"><c r=\"A1\"><v>1</v></c><c r=\"XFD1\"><v>1</v></c></row><row r=\"1048576\"><c r=\"A1048576\"><v>2</v></c></row>",
        "log.xlsx, line 1 holds 16384 fields, and at most 4096 were expected; check that the file is a log.")]
    [InlineData(
        "<row r=\"1\"><c r=\"A1\"><v>1</v></c><c r=\"ALL1\"><v>1</v></c></row><row r=\"1048576\"><c r=\"A1048576\"><v>2</v></c></row>",
        "log.xlsx holds a sheet with more than 67108864 empty cells, which no log needs; export the rows of readings as CSV and name "
            + "that file.")]
    public void A_sheet_whose_last_cell_lies_far_off_is_refused(string rows, string sentence)
    {
        byte[] book = Book(("data", [["t (s)", "P (W)"]]));
        using var bytes = new MemoryStream();
        bytes.Write(book);
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Update, leaveOpen: true))
        {
            zip.GetEntry("xl/worksheets/sheet1.xml")!.Delete();
            Add(zip, "xl/worksheets/sheet1.xml",
                "<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>"
                    + $"{rows}</sheetData></worksheet>");
        }

        Assert.Equal(sentence,
            Assert.Throws<InputException>(() =>
            LogText.Of(bytes.ToArray(), name: "log.xlsx")).Message.Split(Path.DirectorySeparatorChar)[^1]);
    }

    // Style 1 is a date format; numbers above 40 000 are shown with it, as a spreadsheet would.
    internal static byte[] Book(params (string Name, object[][] Rows)[] sheets)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            Add(zip, "[Content_Types].xml",
                "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"xml\" "
                + "ContentType=\"application/xml\"/></Types>");
            string workbook = string.Concat(sheets.Select((s, i) => $"<sheet name=\"{s.Name}\" sheetId=\"{i + 1}\" r:id=\"rId{i + 1}\"/>"));
            Add(zip, "xl/workbook.xml",
                "<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" "
                + "xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets>"
                    + $"{workbook}</sheets></workbook>");
            string relations =
                string.Concat(
                    sheets.Select((_, i) =>
                    $"<Relationship Id=\"rId{i + 1}\" "
                + "Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" "
                + $"Target=\"worksheets/sheet{i + 1}.xml\"/>"));
            Add(zip, "xl/_rels/workbook.xml.rels",
                $"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">{relations}<Relationship "
                + "Id=\"rIdS\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles\" "
                + "Target=\"styles.xml\"/></Relationships>");
            Add(zip, "xl/styles.xml",
                "<styleSheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><cellXfs count=\"2\"><xf "
                + "numFmtId=\"0\"/><xf numFmtId=\"22\" applyNumberFormat=\"1\"/></cellXfs></styleSheet>");
            for (int i = 0; i < sheets.Length; i++)
            {
                Add(zip, $"xl/worksheets/sheet{i + 1}.xml", Sheet(sheets[i].Rows));
            }
        }

        return bytes.ToArray();
    }

    private static string Sheet(object[][] rows)
    {
        var text = new StringBuilder("<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>");
        for (int r = 0; r < rows.Length; r++)
        {
            text.Append(CultureInfo.InvariantCulture, $"<row r=\"{r + 1}\">");
            for (int c = 0; c < rows[r].Length; c++)
            {
                string place = $"{(char)('A' + c)}{r + 1}";
                text.Append(rows[r][c] is double number
                    ? InvariantText.Of($"<c r=\"{place}\"{(number > 40_000 ? " s=\"1\"" : "")}><v>{number:R}</v></c>")
                    : $"<c r=\"{place}\" t=\"inlineStr\"><is><t>{rows[r][c]}</t></is></c>");
            }

            text.Append("</row>");
        }

        return text.Append("</sheetData></worksheet>").ToString();
    }

    private static void Add(ZipArchive zip, string name, string content)
    {
        using var writer = new StreamWriter(zip.CreateEntry(name).Open());
        writer.Write(content);
    }
}
