using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Json;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs;

/// <summary>Numbers and times that no meter can mean: their rows are counted as unusable, or the log is refused, and every figure stays a
/// number.</summary>
public sealed class HostileValuesTests
{
    [Theory]
    [InlineData("39,5.0,1e308")]
    [InlineData("39,5.0,-1.7976931348623157e308")]
    [InlineData("39,5.0,1e22")]
    [InlineData("1e308,5.0,1.0")]
    [InlineData("1950000000000000,5.0,1.0")]
    [InlineData("9223372036854775807,5.0,1.0")]
    [InlineData("1e-320,5.0,1.0")]
    public void One_row_that_cannot_be_is_counted_and_the_others_are_measured(string last)
    {
        string log = "time (s),U (V),I (A)\n" + string.Concat(Enumerable.Range(0, 39).Select(i => InvariantText.Of($"{i},5.0,1.0\n")))
            + last + "\n";
        var read = LogText.Of(log);
        Assert.True(read.Samples.All(s => double.IsFinite(s.TimeS) && s.TimeS < 1e10));
        Assert.Equal(38, read.Samples.Last(s => s.CurrentA == 1).TimeS, 1e-9);
        Assert.True(read.Outcome.Faults.Count > 0);
        Json(log);
    }

    [Fact]
    public void A_counter_beyond_all_counters_gives_no_infinity() =>
        Json("time (s),E (Wh),P (W)\n"
            + string.Concat(Enumerable.Range(0, 40)
            .Select(i =>
            InvariantText.Of($"{i},{(i is 20 or 21 ? "1.797e308" : (i / 720.0).ToString("F4", CultureInfo.InvariantCulture))},5\n"))));

    /// <summary>2⁶³ does not fit in a signed 64-bit integer.</summary>
    [Fact]
    public void A_counter_of_more_digits_than_a_number_holds_is_no_fault_of_the_program() =>
        Json("Time (s),E (kWh)\n0,100.001\n60,9223372036854775808\n");

    [Fact]
    public void A_counter_with_one_good_reading_is_refused_by_a_sentence_of_its_own()
    {
        using var content = new MemoryStream("Time (s),E (kWh)\n0,100.000\n60,100.001\n120,9223372036854775808\n"u8.ToArray());
        var refused = Assert.Throws<InputException>(() =>
            LogMeasurer.Measure(new MeasureRequest { Paths = ["log.csv"], Content = content, Point = MeasuringPoint.Usb },
            cancellation: TestContext.Current.CancellationToken));
        Assert.Contains("fewer than two good readings", refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0001-01-01T00:00:00+14:00")]
    [InlineData("9999-12-31T23:59:59-14:00")]
    [InlineData("9999-12-31 23:59:60")]
    public void A_stamp_at_the_ends_of_the_calendar_is_no_time(string stamp)
    {
        Assert.Throws<InputException>(() => LogText.Of("time,P (W)\n" + string.Concat(Enumerable.Repeat($"{stamp},5\n", 40))));
        var read =
            LogText.Of("time,P (W)\n" + string.Concat(Enumerable.Range(0, 39).Select(i => InvariantText.Of($"2031-05-07T18:30:{i:00},5\n")))
            + $"{stamp},5\n");
        Assert.Equal((39L, 1L), (read.Outcome.Rows, read.Outcome.RowsSkipped));
    }

    [Fact]
    public void A_pipe_without_a_row_is_refused_long_before_its_end()
    {
        using var endless = new Endless("y\n"u8.ToArray());
        Assert.Throws<InputException>(() => ChargeAudit.Logs.Reading.LogFile.Open(endless, "-"));
        Assert.InRange(endless.Given, 1, 4 << 20);
    }

    private static void Json(string log)
    {
        using var content = new MemoryStream(System.Text.Encoding.UTF8.GetBytes(log));
        try
        {
            var measured = LogMeasurer.Measure(new MeasureRequest { Paths = ["log.csv"], Content = content, Point = MeasuringPoint.Usb });
            using var document = System.Text.Json.JsonDocument.Parse(ResultsJson.Measure([measured.Result]));
        }
        catch (InputException e)
        {
            Assert.DoesNotContain('\n', e.Message);
        }
    }

    private sealed class Endless(byte[] line) : Stream
    {
        public long Given { get; private set; }

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override int Read(byte[] buffer, int offset, int count)
        {
            for (int i = 0; i < count; i++)
            {
                buffer[offset + i] = line[(int)((Given + i) % line.Length)];
            }

            Given += count;
            return count;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}
