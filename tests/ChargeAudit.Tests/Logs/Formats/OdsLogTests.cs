using System.IO.Compression;
using System.Text;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>OpenDocument spreadsheets, written by hand as the standard has them.</summary>
public sealed class OdsLogTests
{
    private const string Number =
        "<table:table-cell office:value-type=\"float\" office:value=\"4.5\"><text:p>4,50</text:p></table:table-cell>";

    [Fact]
    public void Dates_times_and_numbers_are_read_by_their_values_and_not_by_what_is_shown()
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i =>
            "<table:table-row><table:table-cell office:value-type=\"date\" office:date-value=\"2031-05-07\"><text:p>7. "
                + "Mai</text:p></table:table-cell>"
            + $"<table:table-cell office:value-type=\"time\" office:time-value=\"PT18H30M{i:00}S\"><text:p>halb "
                + $"sieben</text:p></table:table-cell>{Number}</table:table-row>"));

        LogText.Read read = LogText.Of(Ods(Sheet("Tabelle1", Texts("Datum", "Uhrzeit", "Leistung (W)") + rows)), name: "log.ods");

        Assert.Equal(("ods", 20, 19.0, 4.5), (read.Layout.Format, read.Samples.Count, read.Samples[^1].TimeS, read.Samples[0].PowerW));
        Assert.Equal(new DateTime(2031, 5, 7, 18, 30, 0), read.Layout.Start!.Value.DateTime);
    }

    // A row belongs to a table; one outside every table belongs to no log.
    [Fact]
    public void Rows_outside_of_any_table_are_passed_over()
    {
        string stray = Sheet("Stray", Texts("time (s)", "power (W)") + Texts("0", "4.5"))
            .Replace("<table:table ", "<table:other ", StringComparison.Ordinal)
            .Replace("</table:table>", "</table:other>", StringComparison.Ordinal);
        Assert.DoesNotContain("<table:table ", stray, StringComparison.Ordinal);
        var refused = Assert.Throws<InputException>(() => LogText.Of(Ods(stray), name: "log.ods"));
        Assert.Contains("holds no rows of readings", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_first_sheet_that_holds_a_table_is_read_and_notes_in_cells_are_not()
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i =>
            "<table:table-row><table:table-cell office:value-type=\"float\" "
                + $"office:value=\"{i}\"><office:annotation><text:p>99</text:p></office:annotation><text:p>{i}</text:p></table:table-cell>"
                    + $"{Number}</table:table-row>"));

        LogText.Read read =
            LogText.Of(Ods(Sheet("Cover", Texts("A log")) + Sheet("Data", Texts("time (s)", "power (W)") + rows)), name: "log.ods");

        Assert.Equal((20, 19.0), (read.Samples.Count, read.Samples[^1].TimeS));
        Assert.Contains(read.Layout.Notes, n => n.Contains("Sheet \"Data\" was read", StringComparison.Ordinal));
    }

    [Fact]
    public void Repeated_cells_and_rows_are_written_out_and_empty_ones_at_the_end_are_not()
    {
        string rows =
            "<table:table-row table:number-rows-repeated=\"3\"><table:table-cell table:number-columns-repeated=\"2\" "
            + "office:value-type=\"float\" office:value=\"4.5\"/>"
            + "<table:table-cell table:number-columns-repeated=\"16382\"/></table:table-row><table:table-row "
                + "table:number-rows-repeated=\"1048000\"><table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>";

        LogText.Read read = LogText.Of(Ods(Sheet("S", Texts("time (s)", "power (W)") + rows)), name: "log.ods");

        Assert.Equal((3, 4.5), (read.Samples.Count, read.Samples[2].PowerW));
    }

    [Theory]
    [InlineData(
        "<table:table-row table:number-rows-repeated=\"2000000\"><table:table-cell table:number-columns-repeated=\"2\" "
        + "office:value-type=\"float\" office:value=\"1\"/></table:table-row>", "more than 1048576 rows")]
    [InlineData(
        "<table:table-row><table:table-cell table:number-columns-repeated=\"100000\" office:value-type=\"float\" "
        + "office:value=\"1\"/></table:table-row>", "at most 4096")]
    [InlineData("<table:table-row><table:table-cell>", "cannot be unpacked")]
    public void What_no_sheet_needs_is_refused(string rows, string expected) =>
        Assert.Contains(expected,
            Assert.Throws<InputException>(() =>
            LogText.Of(Ods(Sheet("S", Texts("time (s)", "power (W)") + rows)), name: "log.ods")).Message, StringComparison.Ordinal);

    private static string Texts(params string[] texts) =>
        "<table:table-row>"
        + string.Concat(texts.Select(t => $"<table:table-cell office:value-type=\"string\"><text:p>{t}</text:p></table:table-cell>"))
        + "</table:table-row>";

    private static string Sheet(string name, string rows) => $"<table:table table:name=\"{name}\">{rows}</table:table>";

    private static byte[] Ods(string sheets)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            Write(zip, "mimetype", "application/vnd.oasis.opendocument.spreadsheet", CompressionLevel.NoCompression);
            Write(
                zip,
                "content.xml",
                "<?xml version=\"1.0\" encoding=\"UTF-8\"?><office:document-content "
                    + "xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" "
                + "xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" "
                    + "xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:spreadsheet>"
                + sheets + "</office:spreadsheet></office:body></office:document-content>",
                CompressionLevel.Fastest);
        }

        return bytes.ToArray();
    }

    private static void Write(ZipArchive zip, string name, string text, CompressionLevel level)
    {
        using Stream member = zip.CreateEntry(name, level).Open();
        member.Write(Encoding.UTF8.GetBytes(text));
    }
}
