using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The local page after the first look: logs removed, renamed and given to methods, answers that follow the price, and nothing
/// that a reload or a second tab loses.</summary>
public sealed class PageChangesTests
{
    private static readonly LocatorAssertionsToContainTextOptions Slowly = new() { Timeout = 120_000 };

    [Fact]
    public async Task Nothing_is_lost_by_loading_again_or_by_a_second_tab()
    {
        await using var opened = await PageInBrowser.OpenAsync();
        var page = opened.Page;
        await page.Locator("#files").SetInputFilesAsync(PageInBrowser.Samples("-1-wall.csv"));
        await opened.ListedAsync(2);
        await page.GetByLabel("Method: pad-1-wall.csv").FillAsync("pad A");
        await page.GetByLabel("Price of a kilowatt-hour").FillAsync("0,30");
        await page.GetByLabel("Currency, three letters").FillAsync("EUR");
        await page.GetByLabel("Battery when a charge started").FillAsync("5");
        await page.GetByLabel("Accuracy of the meter at the wall").FillAsync("0.5 % + 0.05 W");
        var report = await opened.MadeAsync();
        Assert.Contains("Charging on pad A uses", await report.Locator(".answer").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Matches(@"95\s% interval", await report.Locator(".answer").InnerTextAsync());

        var second = await page.Context.NewPageAsync();
        foreach (var tab in new[] { page, second })
        {
            await tab.GotoAsync(opened.Address);
            await Assertions.Expect(tab.Locator("#answers")).ToContainTextAsync("on pad A", Slowly);
            Assert.Equal("pad A", await tab.GetByLabel("Method: pad-1-wall.csv").InputValueAsync());
            Assert.Equal("0.3", await tab.GetByLabel("Price of a kilowatt-hour").InputValueAsync());
            Assert.Equal("5", await tab.GetByLabel("Battery when a charge started").InputValueAsync());
            Assert.Equal("0.5 % + 0.05 W", await tab.GetByLabel("Accuracy of the meter at the wall").InputValueAsync());
            await Assertions.Expect(tab.Locator("#stale")).ToBeHiddenAsync();
        }

        Assert.Empty(opened.Complaints);
    }

    [Fact]
    public async Task Answers_follow_the_price_and_a_price_in_cents_is_asked_about()
    {
        await using var opened = await PageInBrowser.OpenAsync();
        var page = opened.Page;
        await page.Locator("#files").SetInputFilesAsync(PageInBrowser.Samples("-1-wall.csv"));
        await opened.ListedAsync(2);
        await page.GetByLabel("Price of a kilowatt-hour").FillAsync("30");
        await page.GetByLabel("Currency, three letters").FillAsync("EUR");
        await page.Locator("#make").ClickAsync();
        await Assertions.Expect(page.Locator("#question"))
            .ToContainTextAsync("Is 30 EUR for a kilowatt-hour right, or was 0.3 meant?", Slowly);
        await SharedBrowser.Picture(page, "page-price-asked.png");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Use 0.3" }).ClickAsync();
        await Assertions.Expect(page.Locator("#answers")).ToContainTextAsync("EUR", Slowly);
        string before = await page.Locator("#answers").InnerTextAsync();
        await page.GetByLabel("Price of a kilowatt-hour").FillAsync("0.60");
        await Assertions.Expect(page.Locator("#answers"))
            .Not.ToHaveTextAsync(before, new LocatorAssertionsToHaveTextOptions { Timeout = 120_000 });
        await SharedBrowser.Picture(page, "page-answers.png");
    }

    [Fact]
    public async Task A_log_is_removed_renamed_and_told_where_it_is_there_twice()
    {
        await using var opened = await PageInBrowser.OpenAsync();
        var page = opened.Page;
        await page.Locator("#files").SetInputFilesAsync(PageInBrowser.Samples("-1-wall.csv"));
        await opened.ListedAsync(2);
        Assert.Contains("the name says \"pad\"", await page.Locator("#rows").InnerTextAsync(), StringComparison.Ordinal);
        await opened.MadeAsync();
        await page.Locator("#files").SetInputFilesAsync(PageInBrowser.Samples("pad-1-wall.csv"));
        await opened.ListedAsync(3);
        await Assertions.Expect(page.Locator("#notes")).ToContainTextAsync("hold the same bytes");
        await Assertions.Expect(page.Locator("#stale")).ToBeVisibleAsync();
        await SharedBrowser.Picture(page, "page-twice.png");
        await page.GetByLabel("Remove pad-1-wall (2).csv").ClickAsync();
        await opened.ListedAsync(2);
        await Assertions.Expect(page.Locator("#notes")).ToBeHiddenAsync();

        await page.GetByLabel("More about pad-1-wall.csv").ClickAsync();
        await page.GetByLabel("Name: pad-1-wall.csv").FillAsync("bedroom.csv");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Apply" }).ClickAsync();
        await Assertions.Expect(page.Locator("#rows")).ToContainTextAsync("bedroom.csv");
        await page.GetByLabel("More about bedroom.csv").ClickAsync();
        await page.GetByLabel("Columns, by position: bedroom.csv").FillAsync("time,nonsense");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Apply" }).ClickAsync();
        await Assertions.Expect(page.Locator("#problems")).ToContainTextAsync("nonsense");
        Assert.DoesNotContain("--", await page.Locator("#problems").InnerTextAsync(), StringComparison.Ordinal);
        await SharedBrowser.Picture(page, "page-renamed.png");
    }

    [Fact]
    public async Task The_order_of_day_and_month_can_be_set_where_no_date_tells_it()
    {
        using var folder = new TemporaryFolder();
        string log = folder.File("evening.csv", "Time,Power (W)\n"
            + string.Concat(Enumerable.Range(0, 60).Select(i => $"03/04/2031 18:{i:00}:00,5\n")));
        await using var opened = await PageInBrowser.OpenAsync();
        var page = opened.Page;
        await page.Locator("#files").SetInputFilesAsync(log);
        await Assertions.Expect(page.Locator("#rows")).ToContainTextAsync("No date in evening.csv tells whether day or month comes first");

        await page.GetByLabel("More about evening.csv").ClickAsync();
        await page.GetByLabel("Dates: evening.csv").SelectOptionAsync("month-first");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Apply" }).ClickAsync();

        await Assertions.Expect(page.Locator("#rows")).Not.ToContainTextAsync("whether day or month comes first");
        await page.ReloadAsync();
        await page.GetByLabel("More about evening.csv").ClickAsync();
        await Assertions.Expect(page.GetByLabel("Dates: evening.csv")).ToHaveValueAsync("month-first");
    }

    [Fact]
    public async Task By_keyboard_alone_the_page_is_walked_from_top_to_bottom()
    {
        await using var opened = await PageInBrowser.OpenAsync(1920, ColorScheme.Dark);
        var page = opened.Page;
        await page.Locator("#files").SetInputFilesAsync(PageInBrowser.Samples("-1-wall.csv"));
        await opened.ListedAsync(2);
        await page.EvaluateAsync("document.activeElement.blur(); window.scrollTo(0, 0)");
        var met = new List<string>();
        for (int i = 0; i < 60 && !met.Contains("make"); i++)
        {
            await page.Keyboard.PressAsync("Tab");
            met.Add(await page.EvaluateAsync<string>(
                "document.activeElement.id || document.activeElement.getAttribute('aria-label') || ''"));
        }

        string[] order = [.. met.Where(m => m is "files" or "folder" or "clear" or "start" or "end" or "price" or "currency" or "charges"
            or "hours" or "make" || m.StartsWith("Method: ", StringComparison.Ordinal))];
        Assert.Equal(
            ["files", "folder", "Method: cable-1-wall.csv", "Method: pad-1-wall.csv", "clear", "start", "end", "price", "currency",
                "charges", "hours", "make"], order);
        await page.Keyboard.PressAsync("Enter");
        await opened.ReportAsync();
        Assert.Equal("save", await page.EvaluateAsync<string>("document.activeElement.id"));
        await SharedBrowser.Picture(page, "page-1920-dark.png");
    }

    [Fact]
    public async Task At_twice_the_size_nothing_sticks_out()
    {
        // 640 pixels of a page at 200 % are a window of 1280.
        await using var opened = await PageInBrowser.OpenAsync(640);
        var page = opened.Page;
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { ForcedColors = ForcedColors.Active });
        await page.Locator("#files").SetInputFilesAsync(PageInBrowser.Samples("-1-wall.csv"));
        await opened.ListedAsync(2);
        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= 640);
        await SharedBrowser.Picture(page, "page-forced.png");
    }
}
