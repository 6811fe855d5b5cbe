using System.Globalization;
using System.IO.Compression;
using System.Text;
using ChargeAudit.LogMaker;
using Parquet;
using Parquet.Schema;

namespace ChargeAudit.Tests.Reach;

/// <summary>Small sound files of every format, to be damaged.</summary>
internal static class ReachSeeds
{
    public static byte[][] Texts { get; } =
    [
        Bytes("time (s),U (V),I (A)\n" + Rows(60, i => $"{i},5.0{i % 10},1.{i % 7}")),
        Bytes("time;voltage;current;P (W)\r\n" + Rows(40, i => $"27.05.2031 18:30:{i:00};5,0{i % 10};1,{i % 7};5,{i % 9}\r")),
        Bytes("# made up\nDate\tTime\tE (kWh)\n" + Rows(40, i => $"2031-05-27\t18:{i:00}:00\t100.{i:000}")),
        Bytes("t  U  I\n" + Rows(40, i => $"  {i}   5.0  1.0")),
        Bytes("\"time\",\"power (mW)\",\"charge (mAh)\"\n" + Rows(40, i => $"\"2031-05-27T18:30:{i:00}.5Z\",\"{5000 + i}\",{i * 10}")),
        Bytes("epoch,P (W),PF,S (VA)\n" + Rows(60, i => $"{1950000000 + i},{7.5 - (i > 40 ? 7.3 : 0):0.0},0.6,12.5")),
        Bytes("ms,temp (°C),V,mA,mWh\n" + Rows(60, i => $"{i * 1000},25.{i % 10},5.0,{1500 - i},{i * 2}")),
        Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes("time (s),P (W)\n" + Rows(40, i => $"{i},5.5"))).ToArray(),
        Packed(Bytes("time (s),P (W)\n" + Rows(200, i => $"{i},5.{i % 10}"))),
    ];

    public static byte[][] Intervals { get; } =
    [
        Bytes("<?xml version=\"1.0\"?><feed xmlns=\"http://www.w3.org/2005/Atom\"><entry><link rel=\"self\" "
            + "href=\"a/1\"/><content><ReadingType xmlns=\"http://naesb.org/espi\"><accumulationBehaviour>4</accumulationBehaviour>"
            + "<intervalLength>900</intervalLength><powerOfTenMultiplier>-3</powerOfTenMultiplier><uom>72</uom></ReadingType>"
            + "</content></entry><entry><content><IntervalBlock xmlns=\"http://naesb.org/espi\"><interval><duration>9000</duration>"
            + "<start>1900000000</start></interval>"
                + string.Concat(Enumerable.Range(0, 20)
                .Select(i =>
                $"<IntervalReading><timePeriod><duration>900</duration><start>{1900000000 + (900 * i)}</start></timePeriod><value>"
                + $"{40 + i}</value></IntervalReading>"))
            + "</IntervalBlock></content></entry></feed>"),
        Bytes("<IntervalBlock "
            + "xmlns=\"http://naesb.org/espi\"><ReadingType><uom>38</uom><accumulationBehaviour>12</accumulationBehaviour>"
            + "<intervalLength>60</intervalLength></ReadingType><interval><start>1900000000</start></interval>"
            + string.Concat(Enumerable.Range(0, 20).Select(i => $"<IntervalReading><value>{5 + (i % 3)}</value></IntervalReading>"))
                + "</IntervalBlock>"),
    ];

    public static byte[][] Parquets { get; } = [ParquetFile(CompressionMethod.None, true), ParquetFile(CompressionMethod.Snappy, false),
        ParquetFile(CompressionMethod.Gzip, true), .. Corpus("*.parquet")];

    public static byte[][] Jsons { get; } = [.. Corpus("*.json"), .. Corpus("*.jsonl")];

    public static byte[][] Databases { get; } = Corpus("*.db");

    public static byte[][] Archives { get; } = [.. Corpus("*.zip"), .. Corpus("*.zst")];

    public static byte[][] Documents { get; } = Corpus("*.ods");

    private static readonly (string Name, byte[] Bytes)[] Sheet =
    [
        ("[Content_Types].xml",
            Bytes("<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Default Extension=\"xml\" "
            + "ContentType=\"application/xml\"/></Types>")),
        ("xl/workbook.xml",
            Bytes("<workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" "
            + "xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets><sheet name=\"Log\" sheetId=\"1\" "
            + "r:id=\"rId1\"/></sheets></workbook>")),
        ("xl/_rels/workbook.xml.rels",
            Bytes("<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"rId1\" "
            + "Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" "
            + "Target=\"worksheets/sheet1.xml\"/></Relationships>")),
        ("xl/sharedStrings.xml",
            Bytes("<sst xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" count=\"2\" uniqueCount=\"2\"><si><t>time "
            + "(s)</t></si><si><t>P (W)</t></si></sst>")),
        ("xl/styles.xml",
            Bytes("<styleSheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><numFmts count=\"1\"><numFmt "
            + "numFmtId=\"164\" formatCode=\"yyyy-mm-dd hh:mm:ss\"/></numFmts><cellXfs count=\"2\"><xf numFmtId=\"0\"/><xf "
            + "numFmtId=\"164\"/></cellXfs></styleSheet>")),
        ("xl/worksheets/sheet1.xml",
            Bytes("<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><dimension "
            + "ref=\"A1:B30\"/><sheetData><row r=\"1\"><c r=\"A1\" t=\"s\"><v>0</v></c><c r=\"B1\" t=\"s\"><v>1</v></c></row>"
            + string.Concat(Enumerable.Range(2, 29)
                .Select(i => $"<row r=\"{i}\"><c r=\"A{i}\" s=\"{i % 2 * 0}\"><v>{i}</v></c><c r=\"B{i}\"><v>5.{i % 10}</v></c></row>"))
                + "</sheetData></worksheet>")),
    ];

    /// <summary>A workbook with one of its parts, or its own bytes, changed.</summary>
    public static byte[] Workbook(Dice dice)
    {
        int changed = (int)(dice.Unit() * (Sheet.Length + 1));
        byte[] zip = Zip(Sheet.Select((p, i) => (p.Name, i == changed ? Mutator.Change(p.Bytes, Sheet[5].Bytes, dice) : p.Bytes)));
        return changed == Sheet.Length ? Mutator.Change(zip, zip, dice) : zip;
    }

    /// <summary>Another file of the same parts, with one of them, or the bytes of the whole, changed.</summary>
    public static byte[] Repacked(byte[] archive, Dice dice)
    {
        if (dice.Chance(0.2))
        {
            return Mutator.Change(archive, archive, dice);
        }

        using var zip = new ZipArchive(new MemoryStream(archive));
        int changed = (int)(dice.Unit() * zip.Entries.Count);
        return Zip([.. zip.Entries.Select((entry, i) =>
        {
            using var to = new MemoryStream();
            using Stream from = entry.Open();
            from.CopyTo(to);
            return (entry.FullName, i == changed ? Mutator.Change(to.ToArray(), archive, dice) : to.ToArray());
        })]);
    }

    /// <summary>Bytes, or what the file says of itself, changed.</summary>
    public static byte[] Parquet(Dice dice) => dice.Chance(0.4)
        ? Mutator.Change(dice.Of(Parquets), dice.Of(Parquets), dice)
        : ParquetMutator.Change(dice.Of(Parquets), dice);

    /// <summary>A packed text: the packing or the text changed.</summary>
    public static byte[] Packed(byte[] text)
    {
        using var to = new MemoryStream();
        using (var zip = new GZipStream(to, CompressionLevel.Fastest))
        {
            zip.Write(text);
        }

        return to.ToArray();
    }

    public static byte[] Bytes(string text) => Encoding.UTF8.GetBytes(text);

    public static string Rows(int count, FormattableRow row) =>
        string.Concat(Enumerable.Range(0, count).Select(i => FormattableString.Invariant(row(i)) + "\n"));

    public delegate FormattableString FormattableRow(int row);

    public static byte[] Zip(IEnumerable<(string Name, byte[] Bytes)> parts)
    {
        using var to = new MemoryStream();
        using (var zip = new ZipArchive(to, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, bytes) in parts)
            {
                using Stream entry = zip.CreateEntry(name, CompressionLevel.NoCompression).Open();
                entry.Write(bytes);
            }
        }

        return to.ToArray();
    }

    // In an order that is the same everywhere.
    private static byte[][] Corpus(string pattern) =>
        [.. Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Logs", "Corpus"), pattern).Order(StringComparer.Ordinal)
            .Select(File.ReadAllBytes)];

    private static byte[] ParquetFile(CompressionMethod method, bool nullable)
    {
        DataField time = new DataField<double>("time_s");
        DataField power = nullable ? new DataField<double?>("power_W") : new DataField<double>("power_W");
        DataField word = new DataField<string>("note");
        using var to = new MemoryStream();
        Task.Run(async () =>
        {
            await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(time, power, word), to, new ParquetOptions
            {
                CompressionMethod = method,
            });
            for (int group = 0; group < 2; group++)
            {
                using ParquetRowGroupWriter rows = writer.CreateRowGroup();
                double[] times = [.. Enumerable.Range(group * 50, 50).Select(i => (double)i)];
                await rows.WriteAsync(time, (ReadOnlyMemory<double>)times);
                if (nullable)
                {
                    await rows.WriteAsync(power, (ReadOnlyMemory<double?>)times.Select(t => t % 7 == 3 ? null : (double?)(5 + (t % 10)))
                        .ToArray());
                }
                else
                {
                    await rows.WriteAsync(power, (ReadOnlyMemory<double>)times);
                }

                await rows.WriteAsync(word, times.Select(t => t.ToString("F0", CultureInfo.InvariantCulture)).ToArray());
            }
        }).GetAwaiter().GetResult();
        return to.ToArray();
    }
}
