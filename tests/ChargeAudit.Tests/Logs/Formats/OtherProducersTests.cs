using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>Parquet files that two other engines wrote: an SQL engine (sql-…) and a columnar library in C++ (col-…). Each holds 20 rows, a
/// second apart, of 4.5 W.</summary>
public sealed class OtherProducersTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Logs", "Corpus");

    public static TheoryData<string> Files() => [.. Directory.GetFiles(Folder, "*-*.parquet").Select(f => Path.GetFileName(f)!)];

    [Theory]
    [MemberData(nameof(Files))]
    public void Times_and_powers_are_those_that_were_written(string file)
    {
        LogText.Read read = LogText.FromFile(Path.Combine(Folder, file));

        double[] seconds = [.. Enumerable.Range(0, 20).Where(i => i != 7 || file != "sql-null.parquet").Select(i => (double)i)];
        Assert.Equal(seconds, read.Samples.Select(s => Math.Round(s.TimeS, 6)));
        Assert.All(read.Samples, s => Assert.Equal(4.5, s.PowerW));
        bool dated = file.Contains("timestamp", StringComparison.Ordinal) || file.Contains("date-and-time", StringComparison.Ordinal);
        Assert.True(!dated || read.Layout.Start!.Value.DateTime == new DateTime(2031, 5, 7, 18, 30, 0), $"{read.Layout.Start:O}");
        Assert.True(!dated || read.Layout.StartIsLocal == !file.Contains("utc", StringComparison.Ordinal),
            "a stamp that is adjusted to UTC has no unknown zone");
    }
}
