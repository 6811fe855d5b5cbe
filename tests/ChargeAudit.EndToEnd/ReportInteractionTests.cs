using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The charts over time, zoomed and read by mouse and by keyboard.</summary>
public sealed partial class ReportInteractionTests
{
    [Fact]
    public async Task The_mouse_reads_values_and_zooms()
    {
        var page = await Opened("#chart-power-wall");
        var area = page.Locator("#chart-power-wall .live .u-over");
        await Move(page, area, 0.30);
        string text = await Output(page);
        Assert.Matches(@"^[\d.]+ h: ■ cable [\d.]+ W( \(readings [\d.]+ to [\d.]+\))? ■ pad [\d.]+ W", text);
        double left = Time(text);
        await Move(page, area, 0.60);
        double right = Time(await Output(page));
        Assert.True(right > left * 1.5);

        await Move(page, area, 0.30);
        await page.Mouse.DownAsync();
        await Move(page, area, 0.60);
        await page.Mouse.UpAsync();
        await Move(page, area, 0.02);
        Assert.Equal(left, Time(await Output(page)), 0.05 * right);
        await Move(page, area, 0.98);
        Assert.Equal(right, Time(await Output(page)), 0.05 * right);

        await area.DblClickAsync();
        await Move(page, area, 0.02);
        Assert.True(Time(await Output(page)) < left / 2);
        await SharedBrowser.Picture(page, "report-live.png");
    }

    [Fact]
    public async Task The_keyboard_does_the_same()
    {
        var page = await Opened("#chart-cumulative-wall");
        var slider = page.Locator("#chart-cumulative-wall [role=slider]");
        Assert.True(await slider.EvaluateAsync<bool>("e => e === document.activeElement"),
            "the chart does not take the focus when it opens");
        await page.Keyboard.PressAsync("End");
        string end = await slider.GetAttributeAsync("aria-valuetext") ?? "";
        Assert.Matches(@"^[\d.]+ h: cable (?:[\d.]+ Wh|not measured), pad [\d.]+ Wh", end);
        Assert.Equal(await slider.GetAttributeAsync("aria-valuemax"), await slider.GetAttributeAsync("aria-valuenow"));
        await page.Keyboard.PressAsync("Home");
        Assert.Equal("0", await slider.GetAttributeAsync("aria-valuenow"));
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("Shift+ArrowRight");
        Assert.Equal("6", await slider.GetAttributeAsync("aria-valuenow"));

        var area = page.Locator("#chart-cumulative-wall .live .u-over");
        double whole = await Span(page, area, "#chart-cumulative-wall");
        await slider.FocusAsync();
        await page.Keyboard.PressAsync("+");
        Assert.Equal(0.5 * whole, await Span(page, area, "#chart-cumulative-wall"), 0.05 * whole);
        await slider.FocusAsync();
        await page.Keyboard.PressAsync("-");
        Assert.Equal(whole, await Span(page, area, "#chart-cumulative-wall"), 0.05 * whole);
    }

    [Fact]
    public async Task The_drawing_comes_back_with_the_focus_on_the_way_in_again()
    {
        var page = await Opened("#chart-power-wall");
        Assert.Equal(1, await page.Locator("figure.chosen").CountAsync());
        await page.Locator("#chart-power-wall .closer button", new PageLocatorOptions { HasText = "Back to the drawing" }).ClickAsync();
        Assert.Equal(0, await page.Locator("figure.chosen, .live").CountAsync());
        Assert.True(await page.Locator("#chart-power-wall .chart").IsVisibleAsync());
        Assert.True(await page.Locator("#chart-power-wall .closer button").EvaluateAsync<bool>("e => e === document.activeElement"));
    }

    private static async Task<IPage> Opened(string chart)
    {
        var page = await SharedReport.Open();
        await page.Locator($"{chart} .closer button").First.ClickAsync();
        await Assertions.Expect(page.Locator(chart)).ToHaveClassAsync(new Regex("chosen"));
        await page.Locator($"{chart} .live output").ScrollIntoViewIfNeededAsync();
        return page;
    }

    private static async Task<double> Span(IPage page, ILocator area, string chart)
    {
        await Move(page, area, 0.02);
        double from = Time(await Output(page, chart));
        await Move(page, area, 0.98);
        return Time(await Output(page, chart)) - from;
    }

    private static async Task Move(IPage page, ILocator area, double share)
    {
        var box = (await area.BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + (float)(share * box.Width), box.Y + (0.5f * box.Height), new MouseMoveOptions { Steps = 3 });
        await page.EvaluateAsync("() => new Promise(r => requestAnimationFrame(() => requestAnimationFrame(r)))");
    }

    private static Task<string> Output(IPage page, string chart = "#chart-power-wall") =>
        page.Locator($"{chart} .live output").InnerTextAsync();

    private static double Time(string text) => double.Parse(Leading().Match(text).Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^-?[\d.]+")]
    private static partial Regex Leading();
}
