using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>An accessibility engine looks at the local page in each of its states and finds nothing serious, and no state sticks out
/// sideways.</summary>
public sealed class PageAccessibilityTests : IDisposable
{
    private static readonly int[] Widths = [360, 1000, 1920];
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Nothing_serious_is_found_in_any_state_at_three_widths_in_two_themes()
    {
        await using var opened = await PageInBrowser.OpenAsync();
        var page = opened.Page;
        await CleanAsync(page, "1-empty");

        await page.Locator("#files")
            .SetInputFilesAsync([_folder.File("notes.txt", "The pad gets warm."), .. PageInBrowser.Samples("-1-wall.csv"),
            Path.Combine(Repository.SampleLogs, "pad-waiting-wall.csv")]);
        await opened.ListedAsync(3);
        Assert.True(await page.Locator("#problems").IsVisibleAsync());
        await CleanAsync(page, "2-logs");

        await page.GetByLabel("How it was charged: pad-1-wall.csv").SelectOptionAsync("not-used");
        await page.GetByLabel("How it was charged: pad-waiting-wall.csv").SelectOptionAsync("not-used");
        await page.Locator("#make").ClickAsync();
        await Assertions.Expect(page.Locator("#refused")).ToBeVisibleAsync(new LocatorAssertionsToBeVisibleOptions { Timeout = 60_000 });
        Assert.True(await page.Locator("#made").IsHiddenAsync());
        await CleanAsync(page, "3-refused");

        await page.GetByLabel("How it was charged: pad-1-wall.csv").SelectOptionAsync("inductive");
        await page.Locator("#price").FillAsync("30");
        await page.Locator("#currency").FillAsync("EUR");
        await page.Locator("#make").ClickAsync();
        await Assertions.Expect(page.Locator("#question")).ToBeVisibleAsync(new LocatorAssertionsToBeVisibleOptions { Timeout = 60_000 });
        await CleanAsync(page, "4-asked");

        await page.Locator("#meant").ClickAsync();
        await opened.ReportAsync();
        Assert.True(await page.Locator("#refused").IsHiddenAsync());
        await page.Locator("#made summary").ClickAsync();
        await page.Locator("#report").ScrollIntoViewIfNeededAsync();
        await CleanAsync(page, "5-report");

        // The report is a frame of its own process, and a press goes to what the last picture shows under the mouse. A hand scrolls and
        // presses later than that; a press in one go with the scrolling would reach the report.
        var remove = page.GetByLabel("Remove pad-waiting-wall.csv");
        await remove.ScrollIntoViewIfNeededAsync();
        await page.EvaluateAsync("new Promise(shown => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(shown, 100))))");
        await remove.ClickAsync();
        await opened.ListedAsync(2);
        await Assertions.Expect(page.Locator("#stale")).ToBeVisibleAsync();
        await CleanAsync(page, "6-old", withFrame: false);
    }

    [Fact]
    public async Task The_engine_would_find_a_field_without_a_name()
    {
        await using var opened = await PageInBrowser.OpenAsync();
        await opened.Page.EvaluateAsync("document.querySelector('label[for=price]').remove()");
        Assert.Contains((await opened.Page.RunAxe()).Violations, v => v.Impact is "serious" or "critical");
    }

    // The engine looks where most differs: narrow and dark, wide and light. It looks into the report's frame as well, which takes as long
    // as all the rest: once is enough for one report, which ReportAccessibilityTests looks at by itself.
    private static async Task CleanAsync(IPage page, string state, bool withFrame = true)
    {
        foreach (int width in Widths)
        {
            await page.SetViewportSizeAsync(width, 800);
            foreach (var scheme in new[] { ColorScheme.Light, ColorScheme.Dark })
            {
                await page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = scheme });
                await SharedBrowser.Picture(page, $"page-{state}-{width}-{scheme}.png");
                Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= width,
                    $"{state} sticks out sideways at {width} px");
                if ((width, scheme) is (360, ColorScheme.Dark) or (1920, ColorScheme.Light))
                {
                    AxeResult found = await page.RunAxe(new AxeRunOptions { Iframes = withFrame && width == 360 });
                    Assert.True(found.Passes.Length > 15, $"only {found.Passes.Length} rules were looked at ({state})");
                    Assert.Empty(found.Violations.Where(v => v.Impact is "serious" or "critical")
                        .Select(v => $"{state}: {v.Id}: {v.Help} at {string.Join(" | ", v.Nodes.Take(5).Select(n => n.Html))}"));
                }
            }
        }
    }
}
