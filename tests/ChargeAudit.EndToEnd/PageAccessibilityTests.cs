using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>An accessibility engine looks at the local page in each of its states and finds nothing serious, and no state sticks out
/// sideways.</summary>
public sealed class PageAccessibilityTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(1200, ColorScheme.Light)]
    [InlineData(360, ColorScheme.Dark)]
    public async Task Nothing_serious_is_found_in_any_state(int width, ColorScheme scheme)
    {
        await using var opened = await PageInBrowser.OpenAsync(width, scheme);
        var page = opened.Page;
        await CleanAsync(page, width, "empty");

        await page.Locator("#files")
            .SetInputFilesAsync([_folder.File("notes.txt", "The pad gets warm."), .. PageInBrowser.Samples("-1-wall.csv"),
            Path.Combine(Repository.SampleLogs, "pad-waiting-wall.csv")]);
        await opened.ListedAsync(3);
        Assert.True(await page.Locator("#problems").IsVisibleAsync());
        await CleanAsync(page, width, "logs");

        await page.GetByLabel("How it was charged: pad-1-wall.csv").SelectOptionAsync("not-used");
        await page.GetByLabel("How it was charged: pad-waiting-wall.csv").SelectOptionAsync("not-used");
        await page.Locator("#make").ClickAsync();
        await Assertions.Expect(page.Locator("#refused")).ToBeVisibleAsync(new LocatorAssertionsToBeVisibleOptions { Timeout = 60_000 });
        Assert.True(await page.Locator("#made").IsHiddenAsync());
        await CleanAsync(page, width, "refused");

        await page.GetByLabel("How it was charged: pad-1-wall.csv").SelectOptionAsync("inductive");
        await opened.MadeAsync();
        Assert.True(await page.Locator("#refused").IsHiddenAsync());
        await page.Locator("#made summary").ClickAsync();
        await page.Locator("#report").ScrollIntoViewIfNeededAsync();
        await CleanAsync(page, width, "made");
    }

    [Fact]
    public async Task The_engine_would_find_a_field_without_a_name()
    {
        await using var opened = await PageInBrowser.OpenAsync();
        await opened.Page.EvaluateAsync("document.querySelector('label[for=price]').remove()");
        Assert.Contains((await opened.Page.RunAxe()).Violations, v => v.Impact is "serious" or "critical");
    }

    private static async Task CleanAsync(IPage page, int width, string state)
    {
        await SharedBrowser.Picture(page, $"page-{width}-{state}.png");
        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= width, $"{state} sticks out sideways");
        AxeResult found = await page.RunAxe();
        Assert.True(found.Passes.Length > 15, $"only {found.Passes.Length} rules were looked at ({state})");
        Assert.Empty(found.Violations.Where(v => v.Impact is "serious" or "critical")
            .Select(v => $"{state}: {v.Id}: {v.Help} at {string.Join(" | ", v.Nodes.Take(5).Select(n => n.Html))}"));
    }
}
