using System.Text;
using ChargeAudit.Cli.Page;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Reports.Files;
using Microsoft.AspNetCore.Http;

namespace ChargeAudit.Tests.Cli.Page;

/// <summary>The local page against slow, broken and impossible requests.</summary>
public sealed class PageSessionTests : IDisposable
{
    private const string Log = "time_s,power_W\n0,5\n1,5\n2,5\n3,5\n4,5\n5,5\n6,5\n7,5\n8,5\n9,5\n";

    private readonly PageSession _session = new(PageLimits.Usual, TimeProvider.System);
    private readonly PageHandlers _page;

    public PageSessionTests() => _page = new PageHandlers(new PageGate("token", 1), _session);

    public void Dispose() => _session.Dispose();

    [Theory]
    [InlineData("-5", "a price of a kilowatt-hour from 0 to 1000000 was expected")]
    [InlineData("1e300", "a price of a kilowatt-hour from 0 to 1000000 was expected")]
    public async Task A_price_that_cannot_be_is_refused(string price, string sentence)
    {
        string ids = await TwoLogsAsync();
        var (status, text) = await AskAsync("POST", "make", $"{{\"logs\":[{ids}],\"price\":{price},\"currency\":\"EUR\"}}");
        Assert.Equal(422, status);
        Assert.Contains(sentence, text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Summaries_are_taken_in_place_of_logs_and_give_a_report()
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;
        try
        {
            foreach (string name in (string[])["cable-usb", "pad-usb"])
            {
                string log = Path.Combine(folder, $"{name}.csv");
                await File.WriteAllTextAsync(log, Log, TestContext.Current.CancellationToken);
                LogReading.Of(new MeasureRequest
                {
                    Paths = [log],
                    Point = MeasuringPoint.Usb,
                    Summaries = new SummaryFolder(folder, "1", (path, bytes) => AtomicFile.Write(path, bytes)),
                }, null, TestContext.Current.CancellationToken);
                string summary = Assert.Single(Directory.GetFiles(folder, $"{name}*{SummaryFile.Ending}"));
                await using var stream = File.OpenRead(summary);
                await _session.TakeAsync($"{name}{SummaryFile.Ending}", null, stream, TestContext.Current.CancellationToken);
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }

        var logs = (await _session.StateAsync(TestContext.Current.CancellationToken)).Logs;
        string ids = string.Join(',', logs.Select((l, i) =>
            $"{{\"id\":\"{l.Id}\",\"kind\":\"{(i == 0 ? "wired" : "inductive")}\",\"point\":\"usb\"}}"));
        var (status, text) = await AskAsync("POST", "make", $"{{\"logs\":[{ids}]}}");
        Assert.True(status == 200, text);
    }

    [Fact]
    public async Task An_empty_entry_is_answered_by_a_sentence()
    {
        await TwoLogsAsync();
        var (status, text) = await AskAsync("POST", "make", "{\"logs\":[null]}");
        Assert.Equal(422, status);
        Assert.Contains("one of the logs that the page sent is empty", text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_page_that_is_loaded_again_finds_its_logs()
    {
        await TwoLogsAsync();
        var (status, text) = await AskAsync("GET", "state", "");
        Assert.Equal(200, status);
        Assert.Contains("cable.csv", text, StringComparison.Ordinal);
        Assert.Contains("pad.csv", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_that_comes_slowly_keeps_nobody_from_the_logs()
    {
        using var never = new Silent();
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var slow = _session.TakeAsync("slow.csv", null, never, stop.Token);
        var state = await _session.TakeAsync("cable.csv", null, new MemoryStream(Encoding.UTF8.GetBytes(Log)),
            TestContext.Current.CancellationToken).WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
        Assert.Equal("cable.csv", Assert.Single(state.Logs).Name);
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => slow);
        Assert.Single((await _session.StateAsync(TestContext.Current.CancellationToken)).Logs);
    }

    [Fact]
    public async Task One_bad_file_does_not_block_the_next()
    {
        var bad = await AskAsync("POST", "log", "not a log", "bad.csv");
        var good = await AskAsync("POST", "log", Log, "cable.csv");
        Assert.Equal((422, 200), (bad.Status, good.Status));
        Assert.DoesNotContain("bad.csv", good.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_a_killed_page_left_goes_when_the_next_one_starts_and_what_a_running_one_holds_stays()
    {
        string left = Directory.CreateTempSubdirectory("chargeaudit-page-").FullName;
        File.WriteAllText(Path.Combine(left, "in-use"), "");
        File.WriteAllText(Path.Combine(left, "0123.csv"), Log);
        using var next = new PageSession(PageLimits.Usual, TimeProvider.System);
        Assert.False(Directory.Exists(left));
        Assert.True(Directory.GetDirectories(Path.GetTempPath(), "chargeaudit-page-*").Length >= 2);
    }

    private async Task<string> TwoLogsAsync()
    {
        await _session.TakeAsync("cable.csv", null, new MemoryStream(Encoding.UTF8.GetBytes(Log)), TestContext.Current.CancellationToken);
        var state =
            await _session.TakeAsync("pad.csv", null, new MemoryStream(Encoding.UTF8.GetBytes(Log)), TestContext.Current.CancellationToken);
        return $"{{\"id\":\"{state.Logs[0].Id}\",\"kind\":\"wired\",\"point\":\"usb\"}},{{\"id\":\""
            + $"{state.Logs[1].Id}\",\"kind\":\"inductive\",\"point\":\"usb\"}}";
    }

    private async Task<(int Status, string Text)> AskAsync(string method, string path, string body, string? name = null)
    {
        var context = new DefaultHttpContext();
        context.Request.Method = method;
        context.Request.Path = $"/token/{path}";
        context.Request.Host = new HostString("127.0.0.1:1");
        context.Request.Body = new MemoryStream(Encoding.UTF8.GetBytes(body));
        if (name is not null)
        {
            context.Request.Headers["X-File-Name"] = name;
        }

        using var to = new MemoryStream();
        context.Response.Body = to;
        await _page.AnswerAsync(context);
        return (context.Response.StatusCode, Encoding.UTF8.GetString(to.ToArray()));
    }

    /// <summary>Yields no byte until the reader gives up.</summary>
    private sealed class Silent : MemoryStream
    {
        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            await Task.Delay(Timeout.Infinite, cancellationToken);
            return 0;
        }
    }
}
