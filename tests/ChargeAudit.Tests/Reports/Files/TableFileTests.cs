using Apache.Arrow;
using Apache.Arrow.Ipc;
using ChargeAudit.Reports.Files;
using Microsoft.Data.Analysis;
using Parquet;

namespace ChargeAudit.Tests.Reports.Files;

/// <summary>A table reads back from its file as it was: every value, and the unknown as unknown.</summary>
public sealed class TableFileTests
{
    private static readonly string?[] Texts = ["pad", null, "", "größer, \"so\"\nund ﬂ", "=1", "last"];
    private static readonly double?[] Numbers = [0.1, double.MaxValue, null, -0.0, 5e-324, null];
    private static readonly bool?[] Flags = [true, false, null, true, false, false];

    [Fact]
    public void Arrow_gives_back_every_cell()
    {
        using var reader = new ArrowFileReader(new MemoryStream(File(TableFormat.Arrow)));
        using var batch = reader.ReadNextRecordBatch();
        Assert.Equal(["name", "x", "known"], batch.Schema.FieldsList.Select(f => f.Name));
        var texts = (StringArray)batch.Column(0);
        Assert.Equal(Texts, Enumerable.Range(0, texts.Length).Select(i => texts.GetString(i)));
        Assert.Equal(Numbers, (DoubleArray)batch.Column(1));
        Assert.Equal(Flags, (BooleanArray)batch.Column(2));
        Assert.Null(reader.ReadNextRecordBatch());
    }

    [Fact]
    public void The_library_of_tables_reads_Arrow_back()
    {
        using var reader = new ArrowFileReader(new MemoryStream(File(TableFormat.Arrow)));
        var table = DataFrame.FromArrowRecordBatch(reader.ReadNextRecordBatch());
        Assert.Equal(Numbers, table.Columns["x"].Cast<double?>());
        Assert.Equal(2, table.Columns["x"].NullCount);
    }

    [Fact]
    public async Task Parquet_gives_back_every_cell()
    {
        await using var reader = await ParquetReader.CreateAsync(new MemoryStream(File(TableFormat.Parquet)),
            cancellationToken: TestContext.Current.CancellationToken);
        var fields = reader.Schema.GetDataFields();
        Assert.Equal(["name", "x", "known"], fields.Select(f => f.Name));
        using var rows = reader.OpenRowGroupReader(0);
        string?[] texts = new string?[6];
        double?[] numbers = new double?[6];
        bool?[] flags = new bool?[6];
        await rows.ReadAsync(fields[0], texts.AsMemory(), null, TestContext.Current.CancellationToken);
        await rows.ReadAsync<double>(fields[1], numbers.AsMemory(), null, TestContext.Current.CancellationToken);
        await rows.ReadAsync<bool>(fields[2], flags.AsMemory(), null, TestContext.Current.CancellationToken);
        Assert.Equal(Texts, texts);
        Assert.Equal(Numbers, numbers);
        Assert.Equal(Flags, flags);
    }

    [Fact]
    public void Text_is_quoted_where_it_must_be() => Assert.Equal(
        "name,x,known\npad,0.1,true\n,1.7976931348623157E+308,false\n,,\n\"größer, \"\"so\"\"\nund ﬂ\",-0,true\n'=1,5E-324,false\nlast,,false\n",
        System.Text.Encoding.UTF8.GetString(File(TableFormat.Csv)));

    [Fact]
    public void Each_format_is_written_once_and_named_by_its_ending() => Assert.Equal(["t.csv", "t.parquet", "t.arrow"],
        TableFile.Of("t", Table(), [TableFormat.Arrow, TableFormat.Csv, TableFormat.Parquet, TableFormat.Csv]).Select(f => f.Name));

    [Fact]
    public void A_table_without_rows_is_a_file_with_columns()
    {
        var empty = new DataFrame(new StringDataFrameColumn("name", 0), new DoubleDataFrameColumn("x", 0));
        using var reader = new ArrowFileReader(new MemoryStream(ArrowTable.Of(empty)));
        using var batch = reader.ReadNextRecordBatch();
        Assert.Equal(0, batch.Length);
        Assert.Equal(2, batch.ColumnCount);
        Assert.NotEmpty(ParquetTable.Of(empty));
    }

    private static byte[] File(TableFormat format) => TableFile.Of("t", Table(), [format]).Single().Bytes;

    private static DataFrame Table() => new(new StringDataFrameColumn("name", Texts), new DoubleDataFrameColumn("x", Numbers),
        new BooleanDataFrameColumn("known", Flags));
}
