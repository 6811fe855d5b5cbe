using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The local page in a real browser: from logs to the report.</summary>
public sealed class PageTests
{
    [Fact]
    public async Task From_choosing_logs_to_reading_the_ratio_in_the_report()
    {
        await using var opened = await PageInBrowser.OpenAsync();
        var page = opened.Page;
        await SharedBrowser.Picture(page, "page-empty.png");
        await page.Locator("#files").SetInputFilesAsync(PageInBrowser.Samples());
        await opened.ListedAsync(14);
        Assert.Equal("wired", await page.GetByLabel("How it was charged: cable-1-wall.csv").InputValueAsync());
        Assert.Equal("inductive", await page.GetByLabel("How it was charged: pad-2-usb.csv").InputValueAsync());
        Assert.Equal("usb", await page.GetByLabel("Where the meter sat: pad-2-usb.csv").InputValueAsync());
        await page.GetByLabel("Price of a kilowatt-hour").FillAsync("0,30");
        await page.GetByLabel("Currency, three letters").FillAsync("eur");
        await SharedBrowser.Picture(page, "page-filled.png");

        // By keyboard alone.
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Make the report" }).FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        var report = await opened.ReportAsync();
        string answer = await report.Locator(".answer").InnerTextAsync();
        Assert.Matches(@"\b1\.51\d* times", answer);
        string text = await report.Locator("body").InnerTextAsync();
        Assert.Contains("cable-1-wall.csv", text, StringComparison.Ordinal);
        Assert.Contains("EUR", text, StringComparison.Ordinal);
        await SharedBrowser.Picture(page, "page-report.png");

        var saved = await page.RunAndWaitForDownloadAsync(() => page.GetByText("Save the report").ClickAsync());
        Assert.Equal("report.html", saved.SuggestedFilename);
        Assert.True(new FileInfo(await saved.PathAsync()).Length > 100_000);
        Assert.All(opened.Requests,
            r => Assert.True(r.StartsWith(opened.Address, StringComparison.Ordinal) || r.StartsWith("data:", StringComparison.Ordinal), r));
        Assert.Empty(opened.Complaints);
    }

    [Fact]
    public async Task What_the_user_says_takes_the_place_of_the_guess()
    {
        await using var opened = await PageInBrowser.OpenAsync(360, ColorScheme.Dark);
        var page = opened.Page;
        await page.Locator("#files").SetInputFilesAsync(PageInBrowser.Samples("-1-wall.csv"));
        await opened.ListedAsync(2);
        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= 360);
        await SharedBrowser.Picture(page, "page-narrow.png");
        await page.GetByLabel("How it was charged: pad-1-wall.csv").SelectOptionAsync("not-used");
        await page.Locator("#make").ClickAsync();
        await Assertions.Expect(page.Locator("#refused"))
            .ToHaveTextAsync(
                new System.Text.RegularExpressions.Regex(@"^A comparison needs a charge by cable and one on a pad.*[^.?][.?]$"),
            new LocatorAssertionsToHaveTextOptions { Timeout = 60_000 });

        // The other way round, the cable takes more.
        await page.GetByLabel("How it was charged: pad-1-wall.csv").SelectOptionAsync("wired");
        await page.GetByLabel("How it was charged: cable-1-wall.csv").SelectOptionAsync("inductive");
        var report = await opened.MadeAsync();
        Assert.Matches(@"\b0\.6\d* times", await report.Locator(".answer").InnerTextAsync());
    }

    [Fact]
    public async Task A_script_in_the_name_of_a_file_is_shown_and_not_run()
    {
        await using var opened = await PageInBrowser.OpenAsync(800);
        var page = opened.Page;
        bool ran = false;
        page.Dialog += (_, dialog) =>
        {
            ran = true;
            _ = dialog.DismissAsync();
        };
        const string evil = "<img src=x onerror=alert(1)><script>alert(1)</script> ";
        byte[] cable =
            await File.ReadAllBytesAsync(Path.Combine(Repository.SampleLogs, "cable-1-wall.csv"), TestContext.Current.CancellationToken);
        byte[] pad =
            await File.ReadAllBytesAsync(Path.Combine(Repository.SampleLogs, "pad-1-wall.csv"), TestContext.Current.CancellationToken);
        await page.Locator("#files").SetInputFilesAsync(
        [
            new FilePayload { Name = $"{evil.Replace("/", "", StringComparison.Ordinal)}cable.csv", MimeType = "text/csv", Buffer = cable },
            new FilePayload { Name = $"{evil.Replace("/", "", StringComparison.Ordinal)}pad.csv", MimeType = "text/csv", Buffer = pad },
        ]);
        await opened.ListedAsync(2);
        Assert.Contains("<script>alert(1)", await page.Locator("#rows").InnerTextAsync(), StringComparison.Ordinal);
        var report = await opened.MadeAsync();
        Assert.Contains("<script>alert(1)", await report.Locator("body").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Equal(0, await report.Locator("img[src=x]").CountAsync());
        Assert.False(ran);
        Assert.Empty(opened.Complaints);
    }
}
