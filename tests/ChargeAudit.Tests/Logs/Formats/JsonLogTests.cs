using System.IO.Compression;
using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>JSON in the forms that logs come in.</summary>
public sealed class JsonLogTests
{
    [Theory]
    [InlineData("array of records", "[", ",", "]")]
    [InlineData("records in a property", "{\"meter\": \"M1\", \"rate\": {\"s\": 1}, \"readings\": [", ",\n", "], \"end\": true}")]
    [InlineData("a record in each line", "", "\n", "\n")]
    [InlineData("records that follow one another", "", " ", "")]
    public void Records_are_read(string form, string before, string between, string after)
    {
        var records = Enumerable.Range(0, 30)
            .Select(i =>
            InvariantText.Of(
                $"{{\"time_s\": {i}, \"bus\": {{\"voltage_V\": 5.0{i % 10}}}, \"power_W\": {(i == 7 ? "null" : "4.5e0")}, \"flags\": [1, "
            + $"{{\"x\": 2}}]}}"));

        LogText.Read read = LogText.Of(before + string.Join(between, records) + after, name: "log.json");

        Assert.Equal(("json", 30, 29.0), (read.Layout.Format, read.Samples.Count, read.Samples[^1].TimeS));
        Assert.Equal((4.5, 5.09), (read.Samples[9].PowerW, read.Samples[9].VoltageV));
        Assert.True(double.IsNaN(read.Samples[7].PowerW), form);
    }

    [Fact]
    public void Rows_below_a_row_of_names_are_read()
    {
        string rows = string.Join(",\n", Enumerable.Range(0, 20).Select(i => $"[\"2031-05-07T18:30:{i:00}Z\", 4.5]"));

        LogText.Read read = LogText.Of($"[[\"time\", \"power (W)\"],\n{rows}]", name: "log.json");

        Assert.Equal((20, 19.0), (read.Samples.Count, read.Samples[^1].TimeS));
    }

    [Fact]
    public void A_long_table_may_be_JSON_too()
    {
        string records = string.Join("\n", Enumerable.Range(0, 20)
            .Select(i => $"{{\"sensor\": \"power\", \"value\": \"4.5\", \"unit\": \"W\", \"time\": \"2031-05-07T18:30:{i:00}Z\"}}"));

        LogText.Read read = LogText.Of(records, name: "log.jsonl");

        Assert.Equal((20, 19.0, 4.5), (read.Samples.Count, read.Samples[^1].TimeS, read.Samples[0].PowerW));
        Assert.NotNull(read.Layout.TableForm);
    }

    [Fact]
    public void A_name_that_first_comes_late_is_counted()
    {
        string records = string.Join("\n", Enumerable.Range(0, 1200)
            .Select(i => $"{{\"time_s\": {i}, \"power_W\": 4.5{(i == 1100 ? ", \"late_W\": 3" : "")}}}"));

        LogText.Read read = LogText.Of(records, name: "log.jsonl");

        Assert.Equal((1199, 1), (read.Outcome.Rows, read.Outcome.RowsSkipped));
    }

    [Theory]
    [InlineData("{\"time\": [0, 1, 2], \"voltage\": [5, 5, 5]}", "holds no records")]
    [InlineData("[{\"time\": 0, \"power\": 4", "begins as JSON")]
    [InlineData("[{}, {}]", "holds no records")]
    public void What_holds_no_records_is_refused(string text, string expected) =>
        Assert.Contains(expected, Assert.Throws<InputException>(() => LogText.Of(text, name: "log.json")).Message,
            StringComparison.Ordinal);

    [Fact]
    public void Nesting_without_end_and_texts_without_end_are_refused()
    {
        Assert.Contains("begins as JSON",
            Assert.Throws<InputException>(() => LogText.Of(new string('[', 100_000), name: "log.json")).Message, StringComparison.Ordinal);
        string text = "[{\"note\": \"" + new string('x', 3 << 20) + "\"}]";
        Assert.Contains("longer than", Assert.Throws<InputException>(() => LogText.Of(text, name: "log.json")).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void JSON_may_be_packed()
    {
        byte[] text =
            Encoding.UTF8.GetBytes(string.Join("\n", Enumerable.Range(0, 20).Select(i => $"{{\"time_s\": {i}, \"power_W\": 4.5}}")));
        using var bytes = new MemoryStream();
        using (var gzip = new GZipStream(bytes, CompressionLevel.Fastest, leaveOpen: true))
        {
            gzip.Write(text);
        }

        Assert.Equal(20, LogText.Of(bytes.ToArray(), name: "log.jsonl.gz").Samples.Count);
    }
}
