using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;
using Parquet.Serialization;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>Columnar files.</summary>
public sealed class ParquetLogTests
{
    [Fact]
    public async Task Columns_of_several_row_groups_are_read_in_order()
    {
        var rows = Enumerable.Range(0, 2500).Select(i => new ParquetRow
        {
            time_s = i * 0.5,
            voltage_V = 5f,
            current_mA = 500 + i,
        }).ToList();
        using var bytes = new MemoryStream();
        await ParquetSerializer.SerializeAsync(rows, bytes, new Parquet.ParquetOptions { RowGroupSize = 1000 },
            cancellationToken: TestContext.Current.CancellationToken);

        LogText.Read read = LogText.Of(bytes.ToArray(), name: "log.parquet");

        Assert.Equal("parquet", read.Layout.Format);
        Assert.Equal(2500, read.Outcome.Rows);
        Assert.Equal(2499 * 0.5, read.Samples[^1].TimeS);
        Assert.Equal(2.999, read.Samples[^1].CurrentA, 1e-12);
        Assert.Empty(read.Outcome.Faults);
    }

    [Fact]
    public async Task Missing_values_and_stamps_are_read()
    {
        var rows = Enumerable.Range(0, 30).Select(i => new StampedRow
        {
            time = new DateTime(2031, 5, 7, 18, 30, i, DateTimeKind.Utc),
            power_W = i == 7 ? null : 5.5,
        }).ToList();
        using var bytes = new MemoryStream();
        await ParquetSerializer.SerializeAsync(rows, bytes, cancellationToken: TestContext.Current.CancellationToken);

        LogText.Read read = LogText.Of(bytes.ToArray(), name: "log.parquet");

        Assert.Equal(29, read.Outcome.Rows);
        Assert.Equal(1, read.Outcome.RowsSkipped);
        Assert.Equal(29, read.Samples[^1].TimeS);
        Assert.Equal(new DateTime(2031, 5, 7, 18, 30, 0), read.Layout.Start!.Value.DateTime);
    }

    [Fact]
    public void A_damaged_file_is_refused()
    {
        InputException refused =
            Assert.Throws<InputException>(() => LogText.Of([.. "PAR1"u8, .. new byte[200], .. "PAR1"u8], name: "log.parquet"));

        Assert.Contains("log.parquet begins as Parquet but cannot be unpacked", refused.Message, StringComparison.Ordinal);
    }

#pragma warning disable IDE1006, SA1300 // The names are those of the columns.
    private sealed class ParquetRow
    {
        public double time_s { get; set; }

        public float voltage_V { get; set; }

        public int current_mA { get; set; }
    }

    private sealed class StampedRow
    {
        public DateTime time { get; set; }

        public double? power_W { get; set; }
    }
#pragma warning restore IDE1006, SA1300
}
