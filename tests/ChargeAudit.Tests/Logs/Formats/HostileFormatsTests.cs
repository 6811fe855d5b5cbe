using System.IO.Compression;
using System.Text;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;
using ChargeAudit.Tests.Reach;
using Parquet;
using Parquet.File.Values.Primitives;
using Parquet.Schema;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>Files of other formats made to fill the memory or never to end: each is refused with its own sentence, before what it claims to
/// hold is in memory.</summary>
[Collection(Reach.ReachTests.Alone)]
public sealed class HostileFormatsTests
{
    private const string Head =
        "<feed xmlns=\"http://www.w3.org/2005/Atom\"><entry><content><ReadingType "
        + "xmlns=\"http://naesb.org/espi\"><accumulationBehaviour>4</accumulationBehaviour><uom>72</uom></ReadingType></content></entry>"
        + "<entry><content><IntervalBlock xmlns=\"http://naesb.org/espi\"><interval><start>1900000000</start></interval>";

    private const string Tail = "</IntervalBlock></content></entry></feed>";

    public static TheoryData<string, string> Documents() => new()
    {
        { Head + "<" + new string('a', 1 << 20) + "/>" + Tail, "a name, tag or text longer than 65536 characters" },
        { Head + "<a b=\"" + new string('a', 1 << 20) + "\"/>" + Tail, "a name, tag or text longer than 65536 characters" },
        { Head + "<value>" + new string('1', 1 << 20) + "</value>" + Tail, "a name, tag or text longer than 262144 characters" },
        { Head + "<value><![CDATA[" + new string('>', 1 << 20) + "]]></value>" + Tail,
            "a name, tag or text longer than 262144 characters" },
        { Head + "<a " + string.Join(' ', Enumerable.Range(0, 1000).Select(i => $"b{i}=\"1\"")) + "/>" + Tail,
            "an element of more than 256 attributes" },
        { Head + string.Concat(Enumerable.Repeat("<a>", 100_000)), "elements nested deeper than 256 levels" },
        { Head + string.Concat(Enumerable.Range(0, 10_000).Select(i => $"<a{i}/>")) + Tail, "more than 4096 different names" },
    };

    [Theory]
    [MemberData(nameof(Documents))]
    public void Interval_data_made_to_fill_the_memory_are_refused(string document, string sentence) =>
        Refused(Encoding.UTF8.GetBytes(document), "log.xml", sentence);

    [Theory]
    [InlineData("value", "9223372036854775808", "the element value holds \"9223372036854775808\"")]
    [InlineData("start", "9223372036854775807", "the element start holds \"9223372036854775807\"")]
    [InlineData("powerOfTenMultiplier", "2147483648", "the element powerOfTenMultiplier holds \"2147483648\"")]
    public void Numbers_that_cannot_be_meant_are_refused(string element, string number, string sentence) =>
        Refused(Encoding.UTF8.GetBytes(Head.Replace("<uom>", $"<{element}>{number}</{element}><uom>", StringComparison.Ordinal)
            + $"<IntervalReading><value>1</value><{element}>{number}</{element}></IntervalReading>" + Tail), "log.xml", sentence);

    [Fact]
    public void A_million_readings_do_not_stay_in_memory()
    {
        static IEnumerable<string> Readings() =>
            Enumerable.Range(0, 300_000)
            .Select(i =>
            $"<IntervalReading><timePeriod><duration>60</duration><start>{1900000000 + (60 * i)}</start></timePeriod><value>"
                + $"{i % 9}</value></IntervalReading>");
        string folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;
        try
        {
            string path = Path.Combine(folder, "log.xml");
            File.WriteAllLines(path, [Head, .. Readings(), Tail]);
            var source = ChargeAudit.Logs.Sources.LogSource.Find(path, new ChargeAudit.Logs.LogOptions(), null, (_, _, _) => { });
            var document = ChargeAudit.Logs.Formats.EspiDocument.Survey(source);
            long before = GC.GetTotalMemory(forceFullCollection: true);
            long most = 0;
            int count = 0;
            foreach (var _ in document.Readings())
            {
                most = ++count % 50_000 == 0 ? Math.Max(most, GC.GetTotalMemory(forceFullCollection: true) - before) : most;
            }

            Assert.Equal((300_000, true), (count, document.IsRising));
            Assert.InRange(most, 0, 4 << 20);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("cell", "a name, tag or text longer than")]
    [InlineData("texts", "more than 2097152 texts")]
    [InlineData("row", "fields, and at most 4096 were expected")]
    [InlineData("encoding", "cannot be unpacked")]
    [InlineData("column", "it names a cell that no worksheet has")]
    [InlineData("line", "it names a cell that no worksheet has")]
    public void Workbooks_made_to_fill_the_memory_are_refused(string what, string sentence)
    {
        const string ns = "xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"";
        string sheet = what switch
        {
            "cell" =>
                $"<worksheet {ns}><sheetData><row r=\"1\"><c r=\"A1\" "
                + $"t=\"inlineStr\"><is><t>{new string('a', 1 << 20)}</t></is></c></row></sheetData></worksheet>",
            "row" =>
                $"<worksheet {ns}><sheetData><row "
                + $"r=\"1\">{string.Concat(Enumerable.Repeat("<c><v>1</v></c>", 5000))}</row></sheetData></worksheet>",
            "column" =>
                $"<worksheet {ns}><sheetData><row r=\"1\"><c r=\"{new string('A', 1000)}1\"><v>1</v></c></row></sheetData></worksheet>",
            "line" => $"<worksheet {ns}><sheetData><row r=\"2000000000\"><c r=\"A2000000000\"><v>1</v></c></row></sheetData></worksheet>",
            "encoding" => $"<?xml version=\"1.0\" encoding=\"iso-8859-1\"?><worksheet {ns}><sheetData/></worksheet>",
            _ => $"<worksheet {ns}><sheetData/></worksheet>",
        };
        using var bytes = new MemoryStream(SheetLogTests.Book(("data", [["t (s)", "P (W)"], [0.0, 5.0]])));
        using var book = new MemoryStream();
        bytes.CopyTo(book);
        using (var zip = new ZipArchive(book, ZipArchiveMode.Update, leaveOpen: true))
        {
            zip.GetEntry("xl/worksheets/sheet1.xml")!.Delete();
            using (var writer = new StreamWriter(zip.CreateEntry("xl/worksheets/sheet1.xml", CompressionLevel.NoCompression).Open()))
            {
                writer.Write(sheet);
            }

            if (what == "texts")
            {
                // Varied enough that its packing ratio does not give it away.
                using var writer = new StreamWriter(zip.CreateEntry("xl/sharedStrings.xml", CompressionLevel.Fastest).Open());
                writer.Write($"<sst {ns}>");
                for (int i = 0; i < 2_100_000; i++)
                {
                    writer.Write($"<si><t>{i:x}</t></si>");
                }

                writer.Write("</sst>");
            }
        }

        Refused(book.ToArray(), "log.xlsx", sentence);
    }

    [Fact]
    public void A_row_group_that_unpacks_to_too_much_is_refused_and_one_of_a_million_rows_is_not()
    {
        Refused(Group(9_000_000), "log.parquet", "rows in one group, which unpacked would take more than 160 MB at once");
        Assert.Equal(1_000_000, LogText.Of(Group(1_000_000), name: "log.parquet").Outcome.Rows);
    }

    // Zeros for the number of rows, values or pages, and the greatest number, in the place of every byte, one at a time: whatever the file
    // then says, its reader comes to an end.
    [Fact]
    public void A_parquet_file_with_any_byte_changed_is_read_or_refused()
    {
        foreach (byte[] seed in ReachSeeds.Parquets.Take(2))
        {
            foreach (byte put in (byte[])[0x00, 0xFF])
            {
                for (int at = 4; at < seed.Length; at += 3)
                {
                    byte[] changed = [.. seed];
                    changed[at] = put;
                    try
                    {
                        LogText.Of(changed, name: "log.parquet");
                    }
                    catch (InputException e)
                    {
                        Assert.DoesNotContain("nothing came out", e.Message, StringComparison.Ordinal);
                    }
                }
            }
        }
    }

    [Fact]
    public void A_reader_that_never_ends_is_left_behind()
    {
        using var end = new ManualResetEventSlim();
        IEnumerable<string> ForEver()
        {
            yield return "first";
            end.Wait(TestContext.Current.CancellationToken);
        }

        var lines = ChargeAudit.Logs.Streams.WatchedWork.Lines(ForEver(), TimeSpan.FromSeconds(0.3), () => new TimeoutException("late"));
        Assert.Throws<TimeoutException>(() => lines.Count());
        Assert.Throws<TimeoutException>(() =>
            ChargeAudit.Logs.Streams.WatchedWork.Run(() => end.Wait(Timeout.Infinite), TimeSpan.FromSeconds(0.3),
            () => new TimeoutException("late")));
        end.Set();
    }

    /// <summary>For such files the library leaves in the columns whatever lay in its memory before: 20 rows of 4.5 W, about whose power the
    /// file says something untrue. The numbers are those of the format's definition: encoding 3 is for Boolean values, a dictionary of two
    /// values takes 16 bytes, one that lies beyond the file's end is none, and 21 values are one more than there are rows. In the last, the
    /// packed data's own first bytes claim to unpack to 256 MB, where the page header says 8 bytes.</summary>
    [Theory]
    [InlineData("152815041506", "152815061506")]
    [InlineData("1504151015144c1502", "1504151015144c1504")]
    [InlineData("26c0021c", "26c07f1c")]
    [InlineData("1628165e", "162a165e")]
    [InlineData("1628165e", "1626165e")]
    [InlineData("4c150215000000081c000000000000", "4c15021500000080808080010000000000")]
    public void A_parquet_column_that_does_not_hold_what_it_says_is_refused(string told, string changed)
    {
        string file = Convert.ToHexStringLower(
            File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "Logs", "Corpus", "sql-timestamp-us.parquet")));
        Assert.Equal(file.IndexOf(told, StringComparison.Ordinal), file.LastIndexOf(told, StringComparison.Ordinal));

        Assert.Equal(20, LogText.Of(Convert.FromHexString(file), name: "log.parquet").Outcome.Rows);
        Refused(Convert.FromHexString(file.Replace(told, changed, StringComparison.Ordinal)), "log.parquet", "cannot be unpacked");
    }

    private static void Refused(byte[] file, string name, string sentence)
    {
        InputException refused = Assert.Throws<InputException>(() => LogText.Of(file, name: name));
        Assert.Contains(sentence, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_key_of_the_metadata_that_stands_there_twice_is_refused()
    {
        string text = Encoding.Latin1.GetString(Group(3, new() { ["note-one"] = "a", ["note-two"] = "b" }));
        Refused(Encoding.Latin1.GetBytes(text.Replace("note-two", "note-one", StringComparison.Ordinal)), "log.parquet", "Parquet");
    }

    [Fact]
    public void A_time_of_more_days_than_there_are_is_passed_over_and_counted()
    {
        LogText.Read read = LogText.Of(Lengths(30, longAt: 7), name: "log.parquet");

        Assert.Equal((29, 1), (read.Outcome.Rows, read.Outcome.RowsSkipped));
        Assert.Equal(29, read.Samples[^1].TimeS);
    }

    private static byte[] Lengths(int rows, int longAt)
    {
        var time = new DataField<Interval>("time");
        var power = new DataField<double>("power_W");
        using var to = new MemoryStream();
        Task.Run(async () =>
        {
            await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(time, power), to);
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            Interval[] times = [.. Enumerable.Range(0, rows).Select(i => new Interval(0, i == longAt ? int.MinValue : 0, i * 1000))];
            await group.WriteAsync(time, (ReadOnlyMemory<Interval>)times);
            await group.WriteAsync(power, (ReadOnlyMemory<double>)Enumerable.Repeat(5.5, rows).ToArray());
        }).GetAwaiter().GetResult();
        return to.ToArray();
    }

    private static byte[] Group(int rows, Dictionary<string, string>? metadata = null)
    {
        DataField time = new DataField<double>("time_s");
        DataField power = new DataField<double>("power_W");
        using var to = new MemoryStream();
        Task.Run(async () =>
        {
            await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(time, power), to, new ParquetOptions
            {
                CompressionMethod = CompressionMethod.None,
            });
            writer.CustomMetadata = metadata ?? [];
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            double[] values = [.. Enumerable.Range(0, rows).Select(i => (double)i)];
            await group.WriteAsync(time, (ReadOnlyMemory<double>)values);
            await group.WriteAsync(power, (ReadOnlyMemory<double>)values);
        }).GetAwaiter().GetResult();
        return to.ToArray();
    }
}
