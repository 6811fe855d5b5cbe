using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>A log read on several cores gives the same samples, faults and lines as one read on a single core.</summary>
public sealed class ParallelRowsTests
{
    [Theory]
    [InlineData("\n", "")]
    [InlineData("\r\n", "")]
    [InlineData("\r", "")]
    [InlineData("\n", "short rows")]
    [InlineData("\n", "comments and headers")]
    [InlineData("\n", "clock set back")]
    [InlineData("\n", "foreign bytes")]
    [InlineData("\n", "text below")]
    [InlineData("\n", "blank lines")]
    [InlineData("\n", "quotes")]
    [InlineData("\n", "no line end at the end")]
    public void Both_ways_of_reading_agree(string lineEnd, string disorder)
    {
        byte[] log = Log(lineEnd, disorder);

        LogText.Read alone = LogText.Of(log, new LogOptions { Parallel = false });
        LogText.Read together = LogText.Of(log, new LogOptions { Parallel = true });

        Assert.True(log.Length > 3 * LogLimits.PieceBytes, "the log takes several pieces");
        Assert.Equal(alone.Samples, together.Samples);
        Assert.Equal(alone.Outcome.Faults, together.Outcome.Faults);
        Assert.Equal(alone.Outcome.Notes, together.Outcome.Notes);
        Assert.Equal(
            (alone.Outcome.Rows, alone.Outcome.RowsSkipped, alone.Outcome.Bytes, alone.Outcome.Sha256),
            (together.Outcome.Rows, together.Outcome.RowsSkipped, together.Outcome.Bytes, together.Outcome.Sha256));
    }

    [Fact]
    public void A_fault_under_strict_reading_is_the_same_sentence()
    {
        byte[] log = Log("\n", "short rows");

        string[] sentences = [.. new[] { false, true }.Select(parallel =>
        {
            string message =
                Assert.Throws<InputException>(() => LogText.Of(log, new LogOptions { Parallel = parallel, Strict = true })).Message;
            return message[message.IndexOf("log.csv", StringComparison.Ordinal)..];
        })];

        Assert.Equal(sentences[0], sentences[1]);
    }

    private static byte[] Log(string lineEnd, string disorder)
    {
        const int rows = 90_000;
        var text = new StringBuilder("t (s),U (V),I (A)").Append(lineEnd);
        for (int i = 0; i < rows; i++)
        {
            string row = disorder switch
            {
                "short rows" when i % 20_011 == 17 => $"{i},5",
                "comments and headers" when i % 20_011 == 17 => "# pause",
                "comments and headers" when i % 30_011 == 18 => "t (s),U (V),I (A)",
                "clock set back" when i >= 50_000 => $"{i - 40_000}.000,5.0{i % 97:00},1.{i % 89:00}",
                "foreign bytes" when i == 60_000 => $"{i}.000,5\u00E9,1",
                "blank lines" when i % 10_007 == 5 => "",
                "quotes" when i == 70_000 => $"{i}.000,\"5.0\",\"1.0",
                _ => $"{i}.000,5.0{i % 97:00},1.{i % 89:00}",
            };
            text.Append(row);
            if (i < rows - 1 || disorder != "no line end at the end")
            {
                text.Append(lineEnd);
            }
        }

        return Encoding.UTF8.GetBytes(text.Append(disorder == "text below" ? "Total,1,2" + lineEnd : "").ToString());
    }
}
