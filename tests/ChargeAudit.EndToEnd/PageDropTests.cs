using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>Logs dragged out of a file manager and dropped on the local page. The browser itself makes the events, as from a real
/// drag.</summary>
public sealed class PageDropTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Dropped_logs_are_listed_and_make_the_report()
    {
        await using var opened = await PageInBrowser.OpenAsync();
        string[] logs = PageInBrowser.Samples("-1-wall.csv");
        await DragAsync(opened.Page, "dragEnter", logs);
        await DragAsync(opened.Page, "dragOver", logs);
        await Assertions.Expect(opened.Page.Locator("#drop")).ToHaveClassAsync(new Regex(@"\bover\b"));
        await SharedBrowser.Picture(opened.Page, "page-dragging.png");
        await DragAsync(opened.Page, "drop", logs);
        await Assertions.Expect(opened.Page.Locator("#drop")).Not.ToHaveClassAsync(new Regex(@"\bover\b"));
        await opened.ListedAsync(2);
        var report = await opened.MadeAsync();
        Assert.Matches(@"uses 5\d\.\d+\s% more energy", await report.Locator(".answer").InnerTextAsync());
        Assert.Contains("pad-1-wall.csv", await report.Locator("body").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Empty(opened.Complaints);
    }

    [Fact]
    public async Task A_dropped_folder_is_looked_into_and_the_names_of_its_folders_tell_cable_from_pad()
    {
        string logs = FolderOfLogs();
        await using var opened = await PageInBrowser.OpenAsync(360);
        await DragAsync(opened.Page, "dragEnter", [logs]);
        await DragAsync(opened.Page, "drop", [logs]);
        await ShowsTheFolderAsync(opened);
        await SharedBrowser.Picture(opened.Page, "page-folder.png");
    }

    [Fact]
    public async Task A_folder_picked_in_the_browsers_own_window_is_looked_into_as_well()
    {
        string logs = FolderOfLogs();
        await using var opened = await PageInBrowser.OpenAsync();
        await opened.Page.Locator("#folder").SetInputFilesAsync(logs);
        await ShowsTheFolderAsync(opened);
    }

    private static async Task ShowsTheFolderAsync(PageInBrowser opened)
    {
        await opened.ListedAsync(2);
        Assert.Equal("wired", await opened.Page.GetByLabel("How it was charged: cable first.csv").InputValueAsync());
        Assert.Equal("inductive", await opened.Page.GetByLabel("How it was charged: pad first.csv").InputValueAsync());
        Assert.StartsWith("notes.md", Assert.Single(await opened.Page.Locator("#problems li").AllInnerTextsAsync()),
            StringComparison.Ordinal);
    }

    private string FolderOfLogs()
    {
        foreach (string log in PageInBrowser.Samples("-1-wall.csv"))
        {
            string kind = Path.GetFileName(log).Split('-')[0];
            Directory.CreateDirectory(Path.Combine(_folder.Path, "logs", kind));
            File.Copy(log, Path.Combine(_folder.Path, "logs", kind, "first.csv"));
        }

        _folder.File("logs/.hidden", "not for the page");
        _folder.File("logs/notes.md", "The pad gets warm.");
        return Path.Combine(_folder.Path, "logs");
    }

    [Fact]
    public async Task What_is_no_log_is_told_beside_the_logs_that_are()
    {
        string picture = _folder.File("photo.jpg", "\u0001\u0002 no table \u0003");
        await using var opened = await PageInBrowser.OpenAsync();
        string[] files = [picture, .. PageInBrowser.Samples("-1-wall.csv")];
        await DragAsync(opened.Page, "dragEnter", files);
        await DragAsync(opened.Page, "drop", files);
        await opened.ListedAsync(2);
        string told = Assert.Single(await opened.Page.Locator("#problems li").AllInnerTextsAsync());
        Assert.StartsWith("photo.jpg is not a text table", told, StringComparison.Ordinal);
        Assert.DoesNotContain(Path.GetTempPath(), told, StringComparison.Ordinal);
        Assert.True(await opened.Page.Locator("#make").IsEnabledAsync());
        await SharedBrowser.Picture(opened.Page, "page-no-log.png");
    }

    private static async Task DragAsync(IPage page, string type, string[] files)
    {
        var box = (await page.Locator("#drop").BoundingBoxAsync())!;
        var session = await page.Context.NewCDPSessionAsync(page);
        await session.SendAsync("Input.dispatchDragEvent", new Dictionary<string, object>
        {
            ["type"] = type,
            ["x"] = box.X + (box.Width / 2),
            ["y"] = box.Y + (box.Height / 2),
            ["data"] = new Dictionary<string, object> { ["items"] = Array.Empty<object>(), ["files"] = files, ["dragOperationsMask"] = 1 },
        });
        await session.DetachAsync();
    }
}
