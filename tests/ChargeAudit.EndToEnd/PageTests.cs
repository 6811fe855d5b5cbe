using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The local page in a real browser: from logs to the report.</summary>
public sealed class PageTests : IAsyncLifetime
{
    private IPlaywright _playwright = null!;
    private IBrowser _browser = null!;
    private PageProcess _process = null!;

    public async ValueTask InitializeAsync()
    {
        string executable = Needs.Browser();
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = executable,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
        _process = await PageProcess.StartAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _playwright?.Dispose();
        _process?.Dispose();
    }

    [Fact]
    public async Task From_choosing_logs_to_reading_the_ratio_in_the_report()
    {
        var (page, complaints, requests) = await OpenAsync(1200);
        await Shot(page, "empty");
        await page.Locator("#files").SetInputFilesAsync(Samples());
        await Listed(page, 14);
        Assert.Equal("wired", await page.GetByLabel("How it was charged: cable-1-wall.csv").InputValueAsync());
        Assert.Equal("inductive", await page.GetByLabel("How it was charged: pad-2-usb.csv").InputValueAsync());
        Assert.Equal("usb", await page.GetByLabel("Where the meter sat: pad-2-usb.csv").InputValueAsync());
        await page.GetByLabel("Price of a kilowatt-hour").FillAsync("0,30");
        await page.GetByLabel("Currency, three letters").FillAsync("eur");
        await Shot(page, "filled");

        // By keyboard alone.
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Make the report" }).FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("#made").WaitForAsync(new LocatorWaitForOptions { Timeout = 120_000 });
        var report = page.FrameLocator("#report");
        string answer = await report.Locator(".answer").InnerTextAsync(new LocatorInnerTextOptions { Timeout = 60_000 });
        Assert.Matches(@"\b1\.50\d* times", answer);
        string text = await report.Locator("body").InnerTextAsync();
        Assert.Contains("cable-1-wall.csv", text, StringComparison.Ordinal);
        Assert.Contains("EUR", text, StringComparison.Ordinal);
        await Shot(page, "report");

        var saved = await page.RunAndWaitForDownloadAsync(() => page.GetByText("Save the report").ClickAsync());
        Assert.Equal("report.html", saved.SuggestedFilename);
        Assert.True(new FileInfo(await saved.PathAsync()).Length > 100_000);
        Assert.All(requests, r => Assert.True(r.StartsWith(_process.Address.AbsoluteUri, StringComparison.Ordinal) || r.StartsWith("data:", StringComparison.Ordinal), r));
        Assert.Empty(complaints);
    }

    [Fact]
    public async Task What_the_user_says_takes_the_place_of_the_guess()
    {
        var (page, _, _) = await OpenAsync(360);
        string[] wall = [.. Samples().Where(s => s.EndsWith("-1-wall.csv", StringComparison.Ordinal))];
        await page.Locator("#files").SetInputFilesAsync(wall);
        await Listed(page, 2);
        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= 360);
        await Shot(page, "narrow");
        await page.GetByLabel("How it was charged: pad-1-wall.csv").SelectOptionAsync("not-used");
        await page.Locator("#make").ClickAsync();
        await Assertions.Expect(page.Locator("#refused")).ToContainTextAsync("needs a wired and an inductive charge", new LocatorAssertionsToContainTextOptions { Timeout = 60_000 });

        // The other way round, the cable takes more.
        await page.GetByLabel("How it was charged: pad-1-wall.csv").SelectOptionAsync("wired");
        await page.GetByLabel("How it was charged: cable-1-wall.csv").SelectOptionAsync("inductive");
        await page.Locator("#make").ClickAsync();
        await page.Locator("#made").WaitForAsync(new LocatorWaitForOptions { Timeout = 120_000 });
        Assert.Matches(@"\b0\.6\d* times", await page.FrameLocator("#report").Locator(".answer").InnerTextAsync(new LocatorInnerTextOptions { Timeout = 60_000 }));
    }

    [Fact]
    public async Task A_script_in_the_name_of_a_file_is_shown_and_not_run()
    {
        var (page, complaints, _) = await OpenAsync(800);
        bool ran = false;
        page.Dialog += (_, dialog) =>
        {
            ran = true;
            _ = dialog.DismissAsync();
        };
        const string evil = "<img src=x onerror=alert(1)><script>alert(1)</script> ";
        byte[] cable = await File.ReadAllBytesAsync(Path.Combine(Repository.SampleLogs, "cable-1-wall.csv"), TestContext.Current.CancellationToken);
        byte[] pad = await File.ReadAllBytesAsync(Path.Combine(Repository.SampleLogs, "pad-1-wall.csv"), TestContext.Current.CancellationToken);
        await page.Locator("#files").SetInputFilesAsync(
        [
            new FilePayload { Name = $"{evil.Replace("/", "", StringComparison.Ordinal)}cable.csv", MimeType = "text/csv", Buffer = cable },
            new FilePayload { Name = $"{evil.Replace("/", "", StringComparison.Ordinal)}pad.csv", MimeType = "text/csv", Buffer = pad },
        ]);
        await Listed(page, 2);
        Assert.Contains("<script>alert(1)", await page.Locator("#rows").InnerTextAsync(), StringComparison.Ordinal);
        await page.Locator("#make").ClickAsync();
        await page.Locator("#made").WaitForAsync(new LocatorWaitForOptions { Timeout = 120_000 });
        var report = page.FrameLocator("#report");
        Assert.Contains("<script>alert(1)", await report.Locator("body").InnerTextAsync(new LocatorInnerTextOptions { Timeout = 60_000 }), StringComparison.Ordinal);
        Assert.Equal(0, await report.Locator("img[src=x]").CountAsync());
        Assert.False(ran);
        Assert.Empty(complaints);
    }

    private async Task<(IPage Page, List<string> Complaints, List<string> Requests)> OpenAsync(int width)
    {
        var context = await _browser.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = 800 },
            ColorScheme = width == 360 ? ColorScheme.Dark : ColorScheme.Light,
        });
        var page = await context.NewPageAsync();
        List<string> complaints = [], requests = [];
        page.Request += (_, request) => requests.Add(request.Url);
        page.Console += (_, message) => complaints.Add(message.Text);
        page.PageError += (_, error) => complaints.Add(error);
        await page.GotoAsync(_process.Address.AbsoluteUri);
        return (page, complaints, requests);
    }

    private static Task Listed(IPage page, int logs) =>
        Assertions.Expect(page.Locator("#status")).ToHaveTextAsync($"{logs} logs are there.", new LocatorAssertionsToHaveTextOptions { Timeout = 120_000 });

    private static string[] Samples() => [.. Directory.GetFiles(Repository.SampleLogs, "*.csv").Order(StringComparer.Ordinal)];

    /// <summary>Pictures to look at, where somebody names a folder for them.</summary>
    private static async Task Shot(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("CHARGEAUDIT_PICTURES") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, $"page-{name}.png"), FullPage = true });
        }
    }
}
