using System.Diagnostics;
using System.IO.Compression;
using ChargeAudit.Metrology;

namespace ChargeAudit.EndToEnd;

/// <summary>Files that claim or hold far more than a log: the program itself, as a process, stays below 300 MB, whether it reads or refuses
/// them.</summary>
public sealed class HostileMemoryTests : IDisposable
{
    private const long MostBytes = 300L << 20;

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Interval_data_with_the_newest_reading_first_are_put_in_order()
    {
        string path = Path.Combine(_folder.Path, "newest-first.xml");
        using (var file = new StreamWriter(path))
        {
            file.Write(
                "<feed xmlns=\"http://www.w3.org/2005/Atom\"><entry><content><ReadingType "
                + "xmlns=\"http://naesb.org/espi\"><accumulationBehaviour>4</accumulationBehaviour><uom>72</uom></ReadingType>"
                + "</content></entry><entry><content><IntervalBlock xmlns=\"http://naesb.org/espi\">");
            for (int i = 200_000; i > 0; i--)
            {
                file.Write(
                    InvariantText.Of(
                        $"<IntervalReading><timePeriod><duration>60</duration><start>{1900000000 + (60 * i)}</start></timePeriod><value>"
                            + $"{i % 7}</value></IntervalReading>"));
            }

            file.Write("</IntervalBlock></content></entry></feed>");
        }

        var (status, peak, _) = Measured(path);
        Assert.Equal(0, status);
        Assert.InRange(peak, 1, MostBytes);
    }

    [Theory]
    [InlineData("cell", "a name, tag or text longer than")]
    [InlineData("texts", "more than 2097152 texts")]
    public void A_workbook_made_to_fill_the_memory_is_refused(string what, string sentence)
    {
        const string ns = "xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"";
        string path = Path.Combine(_folder.Path, "log.xlsx");
        using (ZipArchive zip = ZipFile.Open(path, ZipArchiveMode.Create))
        {
            Add(zip, "xl/workbook.xml",
                $"<workbook {ns} xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets><sheet "
                + "name=\"Log\" sheetId=\"1\" r:id=\"rId1\"/></sheets></workbook>");
            Add(zip, "xl/_rels/workbook.xml.rels",
                "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"rId1\" "
                + "Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" "
                + "Target=\"worksheets/sheet1.xml\"/></Relationships>");
            var letters = new System.Text.StringBuilder();
            for (uint i = 1; letters.Length < 1 << 20; i = unchecked((i * 1664525) + 1013904223))
            {
                letters.Append((char)('a' + ((i >> 16) % 26)));
            }

            string cell = what == "cell" ? string.Concat(Enumerable.Repeat(letters.ToString(), 60)) : "x";
            Add(zip, "xl/worksheets/sheet1.xml",
                $"<worksheet {ns}><sheetData><row r=\"1\"><c r=\"A1\" "
                + $"t=\"inlineStr\"><is><t>{cell}</t></is></c></row></sheetData></worksheet>");
            int shared = what == "texts" ? 3_000_000 : 1;
            Add(zip, "xl/sharedStrings.xml",
                $"<sst {ns}>{string.Concat(Enumerable.Range(0, shared).Select(i => InvariantText.Of($"<si><t>{i:x}</t></si>")))}</sst>");
        }

        var (status, peak, error) = Measured(path);
        Assert.Equal(65, status);
        Assert.Contains(sentence, error, StringComparison.Ordinal);
        Assert.InRange(peak, 1, MostBytes);
    }

    private static void Add(ZipArchive zip, string name, string content)
    {
        using var writer = new StreamWriter(zip.CreateEntry(name, CompressionLevel.Fastest).Open());
        writer.Write(content);
    }

    // The system keeps the peak size of a process, and reports it as long as the process runs.
    private static (int Status, long Peak, string Error) Measured(string path)
    {
        var start = new ProcessStartInfo("dotnet")
        {
            WorkingDirectory = AppContext.BaseDirectory,
            RedirectStandardError = true,
            RedirectStandardOutput = true,
        };
        foreach (string argument in (string[])[Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll"), "measure", path, "--quiet"])
        {
            start.ArgumentList.Add(argument);
        }

        using Process process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        var output = process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        long peak = 0;
        while (!process.WaitForExit(20))
        {
            process.Refresh();
            try
            {
                peak = Math.Max(peak, process.PeakWorkingSet64);
            }
            catch (InvalidOperationException)
            {
                // It has just ended.
            }
        }

        _ = output.GetAwaiter().GetResult();
        return (process.ExitCode, peak, error.GetAwaiter().GetResult());
    }
}
