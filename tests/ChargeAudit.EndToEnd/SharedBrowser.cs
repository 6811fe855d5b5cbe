using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>One browser for all tests, and a place for pictures of what it showed.</summary>
internal static class SharedBrowser
{
    private static readonly Lazy<Task<IBrowser>> Browser = new(Launch);

    /// <summary>A page of its own, with nothing of the others.</summary>
    public static async Task<IPage> NewPage(BrowserNewContextOptions options)
    {
        Needs.Browser();
        var context = await (await Browser.Value).NewContextAsync(options);
        return await context.NewPageAsync();
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
        var playwright = Run.Undisturbed(Playwright.CreateAsync);
        return await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Needs.Browser(),
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--disable-sync"],
        });
    }
}
