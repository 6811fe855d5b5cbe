using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>An accessibility engine looks at the report and finds nothing serious, in the light, in the dark and on a phone.</summary>
public sealed class ReportAccessibilityTests
{
    [Theory]
    [InlineData(1200, ColorScheme.Light)]
    [InlineData(1200, ColorScheme.Dark)]
    [InlineData(360, ColorScheme.Light)]
    [InlineData(360, ColorScheme.Dark)]
    public async Task Nothing_serious_is_found(int width, ColorScheme scheme)
    {
        var page = await SharedReport.Open(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = 800 },
            ColorScheme = scheme,
        });
        foreach (var fold in await page.Locator("summary").AllAsync())
        {
            await fold.ClickAsync();
        }

        var whole = await page.RunAxe();
        Assert.True(whole.Passes.Length > 20, $"only {whole.Passes.Length} rules were looked at");
        Clean(whole);
        await page.Locator("#chart-power-wall .closer button").First.ClickAsync();
        Clean(await page.Locator("#chart-power-wall").RunAxe());
        await SharedBrowser.Picture(page, $"report-{width}-{scheme}.png".ToLowerInvariant());
    }

    [Fact]
    public async Task The_engine_would_find_a_picture_without_words()
    {
        var page = await SharedReport.Open();
        await page.EvaluateAsync("document.querySelector('figure .chart').removeAttribute('aria-label')");
        var found = await page.Locator("figure").First.RunAxe();
        Assert.Contains(found.Violations, v => v.Impact is "serious" or "critical");
    }

    private static void Clean(AxeResult found) => Assert.Empty(
        found.Violations.Where(v => v.Impact is "serious" or "critical")
            .Select(v => $"{v.Id}: {v.Help} at {string.Join(" | ", v.Nodes.Take(5).Select(n => n.Html))}"));
}
