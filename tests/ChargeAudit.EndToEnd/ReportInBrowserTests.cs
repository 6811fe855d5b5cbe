using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The report of the sample study in a real browser, as its reader sees it.</summary>
public sealed class ReportInBrowserTests
{
    [Fact]
    public async Task It_opens_from_disk_asks_for_nothing_else_and_shows_the_answer_and_the_charts()
    {
        var page = await SharedReport.Open();
        Assert.Contains("more energy at the wall than charging by cable", await page.Locator("body").InnerTextAsync(),
            StringComparison.Ordinal);
        var charts = page.Locator("[role=img]:visible");
        int count = await charts.CountAsync();
        Assert.True(count >= 4, $"{count} charts");
        for (int i = 0; i < count; i++)
        {
            var chart = charts.Nth(i);
            var box = await chart.BoundingBoxAsync();
            Assert.True(box is null || (box.Width > 200 && box.Height > 100), $"chart {i}");
            Assert.True(await chart.Locator("svg text").CountAsync() > 3, $"chart {i} has no words");
            string? label = await chart.GetAttributeAsync("aria-label")
                ?? (await chart.GetAttributeAsync("aria-labelledby") is { } id ? await page.Locator($"#{id}").TextContentAsync() : null);
            Assert.False(string.IsNullOrWhiteSpace(label), $"chart {i} has no text alternative");
        }
    }

    [Fact]
    public async Task No_request_leaves_the_page_however_it_is_used_and_its_policy_would_stop_one()
    {
        var page = await SharedReport.Open();
        var requests = new List<string>();
        var complaints = new List<string>();
        page.Context.Request += (_, request) => requests.Add(request.Url);
        page.Console += (_, message) => complaints.Add(message.Text);
        page.PageError += (_, error) => complaints.Add(error);
        await page.ReloadAsync();
        foreach (var button in await page.Locator(".closer button").AllAsync())
        {
            await button.ClickAsync();
        }

        foreach (var fold in await page.Locator("summary").AllAsync())
        {
            await fold.ClickAsync();
        }

        foreach (var link in await page.Locator("nav a").AllAsync())
        {
            await link.ClickAsync();
        }

        Assert.Contains(SharedReport.Address, requests);
        Assert.All(requests,
            r => Assert.True(r.Split('#')[0] == SharedReport.Address || r.StartsWith("data:", StringComparison.Ordinal), r));
        Assert.Empty(complaints);

        // The same page refuses a request that somebody tries to make from inside it.
        Assert.Contains("default-src 'none'", await page.Locator("meta[http-equiv=Content-Security-Policy]").GetAttributeAsync("content")
            ?? "", StringComparison.Ordinal);
        requests.Clear();
        await page.EvaluateAsync(
            "() => { const i = new Image(); i.src = 'http://127.0.0.1:9/x.png'; document.body.append(i); return new Promise(r => { "
            + "i.onerror = r; setTimeout(r, 1000); }); }");
        Assert.Contains(complaints, c => c.Contains("Content Security Policy", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(360)]
    [InlineData(700)]
    [InlineData(1200)]
    public async Task Nothing_sticks_out_sideways(int width)
    {
        var page = await SharedReport.Open(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = 800 },
        });
        foreach (var fold in await page.Locator("summary").AllAsync())
        {
            await fold.ClickAsync();
        }

        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= width);
        await SharedBrowser.Picture(page, $"report-{width}.png");
    }

    [Fact]
    public async Task Without_scripts_everything_is_still_there()
    {
        var page = await SharedReport.Open(new BrowserNewContextOptions { JavaScriptEnabled = false });
        int drawn = await page.Locator("figure .chart svg:visible").CountAsync();
        Assert.Equal(await page.Locator("figure").CountAsync(), drawn);
        Assert.Equal(0, await page.Locator("button").CountAsync());
        Assert.Contains("Cautions", await page.Locator("body").InnerTextAsync(), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task On_paper_every_chart_and_table_is_there_and_nothing_that_only_a_screen_has_use_for()
    {
        var page = await SharedReport.Open();
        await page.Locator("#chart-power-wall .closer button").First.ClickAsync();
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print, ColorScheme = ColorScheme.Dark });
        Assert.Equal(0, await page.Locator("nav:visible, .closer:visible, .live:visible, .skip:visible").CountAsync());
        Assert.Equal(await page.Locator("figure").CountAsync(), await page.Locator("figure .chart svg:visible").CountAsync());
        Assert.Equal("rgb(255, 255, 255)", await page.EvaluateAsync<string>("getComputedStyle(document.body).backgroundColor"));
        Assert.True(await page.Locator("details table").First.IsVisibleAsync(), "a folded table is not printed");
        byte[] paper = await page.PdfAsync(new PagePdfOptions { Format = "A4" });
        Assert.Equal("%PDF"u8.ToArray(), paper[..4]);
        Assert.InRange(paper.Length, 100_000, 3_000_000);
        await SharedBrowser.Picture(page, "report-print.png");
        if (Environment.GetEnvironmentVariable("CHARGEAUDIT_PICTURES") is { Length: > 0 } folder)
        {
            await File.WriteAllBytesAsync(Path.Combine(folder, "report.pdf"), paper, TestContext.Current.CancellationToken);
        }
    }

    [Fact]
    public void It_is_no_larger_than_a_megabyte_and_a_half()
    {
        Needs.Browser();
        Assert.InRange(new FileInfo(SharedReport.File).Length, 200_000, 1_500_000);
    }
}
