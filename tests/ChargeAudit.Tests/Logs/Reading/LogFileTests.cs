using System.Text;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>A log is opened from a path or a stream, read, and closed.</summary>
public sealed class LogFileTests
{
    // 6 W for 99 s.
    private static readonly byte[] Bytes =
        Encoding.UTF8.GetBytes("t (s),power (W)\n" + string.Concat(Enumerable.Range(0, 100).Select(i => $"{i},6\n")));

    [Fact]
    public void A_stream_gives_the_same_samples_as_the_file_and_stays_open()
    {
        var file = LogText.Of(Bytes);
        using var stream = new MemoryStream(Bytes);
        using var log = LogFile.Open(stream, "from the network");
        var sink = new Collected();
        var outcome = Assert.Single(log.ReadInto(ref sink, cancellation: TestContext.Current.CancellationToken));
        Assert.Equal(file.Samples, sink.Samples);
        Assert.Equal(file.Outcome.Sha256, outcome.Sha256);
        Assert.True(stream.CanRead);
    }

    [Fact]
    public void A_stream_is_read_from_where_it_stands()
    {
        using var stream = new MemoryStream([.. "no part of the log\n"u8, .. Bytes]);
        stream.Position = 19;
        using var log = LogFile.Open(stream, "rest");
        Assert.Equal(1, log.Layout.Dialect!.HeaderLine);
    }

    [Fact]
    public void A_log_may_be_read_twice()
    {
        using var log = LogFile.Open(new MemoryStream(Bytes), "twice");
        var first = new Collected();
        var second = new Collected();
        log.ReadInto(ref first, cancellation: TestContext.Current.CancellationToken);
        log.ReadInto(ref second, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(100, first.Samples.Count);
        Assert.Equal(first.Samples, second.Samples);
    }

    [Fact]
    public void The_copy_of_a_stream_goes_away_with_the_log()
    {
        var log = LogFile.Open(new MemoryStream(Bytes), "copied");
        var copy = log.Layout.Spool!;
        copy.Open().Dispose();
        log.Dispose();
        Assert.Throws<FileNotFoundException>(() => copy.Open());
        var sink = new Collected();
        Assert.Throws<ObjectDisposedException>(() => log.ReadInto(ref sink, cancellation: TestContext.Current.CancellationToken));
    }

    [Fact]
    public void A_stream_that_is_no_log_is_refused_under_its_name()
    {
        var refused =
            Assert.Throws<InputException>(() => LogFile.Open(new MemoryStream("neither rows nor columns"u8.ToArray()), "from the network"));
        Assert.StartsWith("from the network", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Reading_beside_other_work_gives_the_same_and_can_be_stopped()
    {
        using var log = LogFile.Open(new MemoryStream(Bytes), "beside");
        var (sink, _) = await log.ReadIntoAsync(new Collected(), cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(100, sink.Samples.Count);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() =>
            log.ReadIntoAsync(new Collected(), cancellation: new CancellationToken(canceled: true)));
    }

    // 6 W × 99 s = 594 J = 0.165 Wh.
    [Fact]
    public async Task A_stream_is_measured_as_a_file_is()
    {
        var measured = await LogMeasurer.MeasureAsync(new MeasureRequest { Paths = ["sent"], Content = new MemoryStream(Bytes) },
            cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(594.0 / 3600, measured.Result.Energy.Value, 1e-12);
        Assert.Equal(["sent"], measured.Result.Files);
    }
}
