using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The report of the sample study and a browser to look at it with, made once for all tests.</summary>
internal static class SharedReport
{
    private static readonly Lazy<Task<IBrowser>> Browser = new(Launch);
    private static readonly Lazy<string> Folder = new(Write);

    /// <summary>Path of the page.</summary>
    public static string File => Path.Combine(Folder.Value, "report", "report.html");

    /// <summary>Address of the page.</summary>
    public static string Address => new Uri(File).AbsoluteUri;

    /// <summary>The page, opened.</summary>
    public static async Task<IPage> Open(BrowserNewContextOptions? options = null)
    {
        Needs.Browser();
        var context = await (await Browser.Value).NewContextAsync(options ?? new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = 1200, Height = 900 } });
        var page = await context.NewPageAsync();
        await page.GotoAsync(Address);
        return page;
    }

    /// <summary>Keeps a picture where somebody wants to look at it: in the folder that CHARGEAUDIT_PICTURES names.</summary>
    public static async Task Picture(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("CHARGEAUDIT_PICTURES") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name), FullPage = true });
        }
    }

    private static async Task<IBrowser> Launch()
    {
        var playwright = await Playwright.CreateAsync();
        return await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Needs.Browser(),
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    private static string Write()
    {
        var folder = new TemporaryFolder();
        AppDomain.CurrentDomain.ProcessExit += (_, _) => folder.Dispose();
        var run = Run.In(folder.Path, "audit", folder.SampleLogs(), "--out", "report");
        Assert.True(run.Status == 0, run.Error);
        return folder.Path;
    }
}
