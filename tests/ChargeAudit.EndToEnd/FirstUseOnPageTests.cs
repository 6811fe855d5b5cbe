using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>
/// The whole of a first use of the page, in one go, by somebody who has only the mouse and by somebody who has only the keyboard: logs
/// chosen, guesses corrected, accuracy, state of charge, price and use given, a slip in the price mended, the answer read, the report
/// saved, a log removed, a value read off a chart, the page loaded again, everything removed.
/// </summary>
public sealed class FirstUseOnPageTests
{
    private static readonly LocatorAssertionsToContainTextOptions Slowly = new() { Timeout = 120_000 };
    private static readonly LocatorAssertionsToBeVisibleOptions SlowlySeen = new() { Timeout = 120_000 };

    [Theory]
    [InlineData("mouse", 1200, ColorScheme.Light)]
    [InlineData("keyboard", 1200, ColorScheme.Dark)]
    [InlineData("mouse", 360, ColorScheme.Dark)]
    public async Task A_first_use_from_beginning_to_end(string with, int width, ColorScheme scheme)
    {
        await using var opened = await PageInBrowser.OpenAsync(width, scheme);
        var page = opened.Page;
        PageHand hand = with == "mouse" ? new PageHand.Mouse(page) : new PageHand.Keyboard(page);
        Task Picture(string state) => SharedBrowser.Picture(page, $"first-use-{with}-{width}-{state}.png");

        await hand.FilesAsync(page.Locator("#files"),
            [.. PageInBrowser.Samples("-1-wall.csv"), .. PageInBrowser.Samples("-waiting-wall.csv")]);
        await opened.ListedAsync(4);
        await Picture("1-logs");
        await hand.WriteAsync(page.GetByLabel("Method: pad-1-wall.csv"), "pad A");
        await hand.WriteAsync(page.GetByLabel("Method: pad-waiting-wall.csv"), "pad A");
        await hand.WriteAsync(page.GetByLabel("Accuracy of the meter at the wall"), "0.5 % + 0.05 W");
        await hand.WriteAsync(page.Locator("#start"), "5");
        await hand.WriteAsync(page.Locator("#end"), "100");
        await hand.WriteAsync(page.Locator("#price"), "30");
        await hand.WriteAsync(page.Locator("#currency"), "EUR");
        await hand.PressAsync(page.Locator("#make"));
        await Assertions.Expect(page.Locator("#question")).ToContainTextAsync("Is 30 EUR for a kilowatt-hour right", Slowly);
        await Picture("2-asked");
        await hand.PressAsync(page.Locator("#meant"));
        var report = await opened.ReportAsync();
        string answer = await report.Locator(".answer").InnerTextAsync();
        Assert.Matches(@"^Charging on pad A uses \d+\.\d+\s% more energy at the wall .*95\s% interval", answer);
        await Picture("3-report");

        string before = await page.Locator("#answers").InnerTextAsync();
        await hand.WriteAsync(page.Locator("#charges"), "14", backwards: true);
        await Assertions.Expect(page.Locator("#answers"))
            .Not.ToHaveTextAsync(before, new LocatorAssertionsToHaveTextOptions { Timeout = 120_000 });
        await hand.ChooseAsync(page.Locator("#locale"), "da");
        await Assertions.Expect(page.Locator("#answers li").First)
            .ToHaveTextAsync(new System.Text.RegularExpressions.Regex(@"uses \d+,\d+ % more"), new() { Timeout = 120_000 });
        await Assertions.Expect(report.Locator(".answer"))
            .ToHaveTextAsync(new System.Text.RegularExpressions.Regex(@"uses \d+,\d+\s% more"), new() { Timeout = 120_000 });
        var saved = await page.RunAndWaitForDownloadAsync(() => hand.PressAsync(page.Locator("#save")));
        Assert.Contains("pad A", await File.ReadAllTextAsync(await saved.PathAsync(), TestContext.Current.CancellationToken),
            StringComparison.Ordinal);

        await hand.PressAsync(page.GetByLabel("Remove pad-waiting-wall.csv"), backwards: true);
        await opened.ListedAsync(3);
        await Assertions.Expect(page.Locator("#stale")).ToBeVisibleAsync();
        await Picture("4-old");
        await hand.PressAsync(page.Locator("#make"));
        await Assertions.Expect(page.Locator("#stale")).ToBeHiddenAsync(new LocatorAssertionsToBeHiddenOptions { Timeout = 120_000 });
        await Assertions.Expect(page.Locator("#making")).ToHaveTextAsync("The report is ready.",
            new LocatorAssertionsToHaveTextOptions { Timeout = 120_000 });
        await report.Locator(".answer").WaitForAsync(new LocatorWaitForOptions { Timeout = 60_000 });

        await hand.PressAsync(report.GetByRole(AriaRole.Button, new() { Name = "Zoom and read values" }).First);
        await page.Keyboard.PressAsync("ArrowRight");
        Assert.Matches(@"\d,\d+ W", await report.Locator("output").First.InnerTextAsync());
        await Picture("5-values");

        // Else the browser scrolls to where the page was, some time after it has grown, and a press meant for a button lands in the report.
        await page.EvaluateAsync("() => { history.scrollRestoration = 'manual'; }");
        await page.ReloadAsync();
        await Assertions.Expect(page.Locator("#made")).ToBeVisibleAsync(SlowlySeen);
        Assert.Equal("pad A", await page.GetByLabel("Method: pad-1-wall.csv").InputValueAsync());
        Assert.Equal(("14", "da"), (await page.Locator("#charges").InputValueAsync(), await page.Locator("#locale").InputValueAsync()));
        await opened.ListedAsync(3);
        await hand.PressAsync(page.Locator("#clear"));
        await Assertions.Expect(page.Locator("#status")).ToHaveTextAsync("There are no logs yet.",
            new LocatorAssertionsToHaveTextOptions { Timeout = 60_000 });
        Assert.True(await page.Locator("#made").IsHiddenAsync());

        // The browser logs the question about the price in its console, as it is an answer with status 409.
        Assert.DoesNotContain(opened.Complaints, c => !c.Contains("409", StringComparison.Ordinal));
        Assert.All(opened.Requests,
            r => Assert.True(r.StartsWith(opened.Address, StringComparison.Ordinal) || r.StartsWith("data:", StringComparison.Ordinal), r));
    }
}
