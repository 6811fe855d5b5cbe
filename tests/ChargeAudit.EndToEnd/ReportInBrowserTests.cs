using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The report of the sample study in a real browser, as its reader sees it.</summary>
public sealed class ReportInBrowserTests : IAsyncLifetime
{
    private readonly TemporaryFolder _folder = new();
    private IPlaywright? _playwright;
    private IBrowser? _browser;

    public async ValueTask InitializeAsync()
    {
        string executable = Needs.Browser();
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = executable,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
        Assert.Equal(0, Run.In(_folder.Path, "audit", _folder.SampleLogs(), "--out", "report").Status);
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _playwright?.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public async Task It_opens_from_disk_asks_for_nothing_else_and_shows_the_answer_and_the_charts()
    {
        var page = await _browser!.NewPageAsync();
        var requests = new List<string>();
        var complaints = new List<string>();
        page.Request += (_, request) => requests.Add(request.Url);
        page.Console += (_, message) => complaints.Add(message.Text);
        page.PageError += (_, error) => complaints.Add(error);
        await page.GotoAsync(Address);
        Assert.All(requests, r => Assert.True(r == Address || r.StartsWith("data:", StringComparison.Ordinal), r));
        Assert.Empty(complaints);

        Assert.Contains("times the energy of charging with cable", await page.Locator("body").InnerTextAsync(), StringComparison.Ordinal);
        var charts = page.Locator("[role=img]:visible");
        int count = await charts.CountAsync();
        Assert.True(count >= 4, $"{count} charts");
        for (int i = 0; i < count; i++)
        {
            var chart = charts.Nth(i);
            var box = await chart.BoundingBoxAsync();
            Assert.True(box is null || (box.Width > 200 && box.Height > 100), $"chart {i}");
            Assert.True(await chart.Locator("svg text").CountAsync() > 3, $"chart {i} has no words");
            string? label = await chart.GetAttributeAsync("aria-label") ?? (await chart.GetAttributeAsync("aria-labelledby") is { } id ? await page.Locator($"#{id}").TextContentAsync() : null);
            Assert.False(string.IsNullOrWhiteSpace(label), $"chart {i} has no text alternative");
        }
    }

    [Theory]
    [InlineData(360)]
    [InlineData(1200)]
    public async Task Nothing_sticks_out_sideways(int width)
    {
        var page = await _browser!.NewPageAsync(new BrowserNewPageOptions { ViewportSize = new ViewportSize { Width = width, Height = 800 } });
        await page.GotoAsync(Address);
        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= width);
    }

    [Fact]
    public async Task Without_scripts_everything_is_still_there()
    {
        var context = await _browser!.NewContextAsync(new BrowserNewContextOptions { JavaScriptEnabled = false });
        var page = await context.NewPageAsync();
        await page.GotoAsync(Address);
        Assert.True(await page.Locator("[role=img]:visible").CountAsync() >= 4);
        Assert.Contains("Cautions", await page.Locator("body").InnerTextAsync(), StringComparison.OrdinalIgnoreCase);
    }

    private string Address => new Uri(Path.Combine(_folder.Path, "report", "report.html")).AbsoluteUri;
}
