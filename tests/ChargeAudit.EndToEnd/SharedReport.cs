using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The report of the sample study made once for all tests.</summary>
internal static class SharedReport
{
    private static readonly Lazy<string> Folder = new(Write);

    /// <summary>Path of the page.</summary>
    public static string File => Path.Combine(Folder.Value, "report", "report.html");

    /// <summary>Address of the page.</summary>
    public static string Address => new Uri(File).AbsoluteUri;

    /// <summary>The page, opened.</summary>
    public static async Task<IPage> Open(BrowserNewContextOptions? options = null)
    {
        var page = await SharedBrowser.NewPage(options ?? new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = 1200, Height = 900 },
        });
        await page.GotoAsync(Address);
        return page;
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
