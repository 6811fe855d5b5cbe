using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The local page as a process and as its user sees it, with everything that the browser asked for and complained of.</summary>
internal sealed class PageInBrowser : IAsyncDisposable
{
    private readonly PageProcess _process;

    private PageInBrowser(PageProcess process, IPage page) => (_process, Page) = (process, page);

    public IPage Page { get; }

    public string Address => _process.Address.AbsoluteUri;

    public List<string> Requests { get; } = [];

    public List<string> Complaints { get; } = [];

    public static async Task<PageInBrowser> OpenAsync(int width = 1200, ColorScheme scheme = ColorScheme.Light)
    {
        var page = await SharedBrowser.NewPage(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = 800 },
            ColorScheme = scheme,
        });
        var opened = new PageInBrowser(await PageProcess.StartAsync(), page);
        page.Request += (_, request) => opened.Requests.Add(request.Url);
        page.Console += (_, message) => opened.Complaints.Add(message.Text);
        page.PageError += (_, error) => opened.Complaints.Add(error);
        await page.GotoAsync(opened.Address);
        return opened;
    }

    /// <summary>Waits until this many logs are listed.</summary>
    public Task ListedAsync(int logs) =>
        Assertions.Expect(Page.Locator("#status")).ToHaveTextAsync($"There are {logs} logs.", new LocatorAssertionsToHaveTextOptions
        {
            Timeout = 120_000,
        });

    /// <summary>Asks for the report and waits until it is shown.</summary>
    public async Task<IFrameLocator> MadeAsync()
    {
        await Page.Locator("#make").ClickAsync();
        return await ReportAsync();
    }

    /// <summary>Waits until the report is shown.</summary>
    public async Task<IFrameLocator> ReportAsync()
    {
        await Page.Locator("#made").WaitForAsync(new LocatorWaitForOptions { Timeout = 120_000 });
        var report = Page.FrameLocator("#report");
        await report.Locator(".answer").WaitForAsync(new LocatorWaitForOptions { Timeout = 60_000 });
        return report;
    }

    /// <summary>Logs of the sample study whose names have this ending.</summary>
    public static string[] Samples(string ending = ".csv") =>
        [.. Directory.GetFiles(Repository.SampleLogs, "*.csv").Where(s => s.EndsWith(ending, StringComparison.Ordinal))
        .Order(StringComparer.Ordinal)];

    public async ValueTask DisposeAsync()
    {
        await Page.Context.CloseAsync();
        _process.Dispose();
    }
}
