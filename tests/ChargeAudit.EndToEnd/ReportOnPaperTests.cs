using System.Globalization;
using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The report on paper: nothing is cut at an edge, hidden in a scrolled box, or drawn outside its chart.</summary>
public sealed class ReportOnPaperTests
{
    private const double PixelsPerMillimetre = 96 / 25.4;

    [Theory]
    [InlineData("A4", 210)]
    [InlineData("Letter", 215.9)]
    public async Task Nothing_is_wider_than_the_paper_between_its_margins(string paper, double paperMm)
    {
        var page = await SharedReport.Open();
        double marginMm = double.Parse(await page.EvaluateAsync<string>(PageMargin), CultureInfo.InvariantCulture);
        int width = (int)((paperMm - (2 * marginMm)) * PixelsPerMillimetre);
        await page.SetViewportSizeAsync(width, 1000);
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= width, $"{paper}: wider than {width} px");
        Assert.Empty(await page.EvaluateAsync<string[]>(StickingOut, width));
        await SharedBrowser.Picture(page, $"report-paper-{paper.ToLowerInvariant()}.png");
    }

    [Fact]
    public async Task A_box_that_is_too_wide_would_be_found()
    {
        var page = await SharedReport.Open(new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = 680, Height = 1000 } });
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });

        // A folded table is not printed.
        const string Printed = "[...document.querySelectorAll('table')].find(t => !t.closest('details'))";
        await page.EvaluateAsync($"{Printed}.style.width = '900px'");
        Assert.NotEmpty(await page.EvaluateAsync<string[]>(StickingOut, 680));
        await page.EvaluateAsync($"{Printed}.parentElement.style.overflow = 'hidden'");
        Assert.NotEmpty(await page.EvaluateAsync<string[]>(StickingOut, 680));
    }

    [Fact]
    public async Task No_heading_stands_alone_at_the_foot_of_a_page_and_no_chart_is_cut_in_two()
    {
        var page = await SharedReport.Open(new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = 680, Height = 1000 } });
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        const string Printed = "e => e.getBoundingClientRect().height > 0";
        Assert.True(await page.EvaluateAsync<int>($"{Headings}.filter({Printed}).length") > 30);
        Assert.Empty(await page.EvaluateAsync<string[]>(
            $"{Headings}.filter({Printed}).filter(e => getComputedStyle(e).breakAfter !== 'avoid').map(e => e.textContent)"));
        Assert.Empty(await page.EvaluateAsync<string[]>(
            "[...document.querySelectorAll('figure, tr')].filter(e => getComputedStyle(e).breakInside !== 'avoid').map(e => e.id)"));
    }

    [Theory]
    [InlineData(360, Media.Screen)]
    [InlineData(1200, Media.Screen)]
    [InlineData(680, Media.Print)]
    public async Task Every_word_of_a_chart_lies_inside_its_drawing_and_on_no_other_word(int width, Media media)
    {
        var page = await SharedReport.Open(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = 1000 },
        });
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = media });
        Assert.True(await page.Locator("figure .chart svg text:visible").CountAsync() > 50);
        Assert.Empty(await page.EvaluateAsync<string[]>(WordsOutOfPlace));

        // The same look finds a word that is out of place.
        await page.EvaluateAsync(
            "[...document.querySelectorAll('figure .chart svg text')].find(t => t.getBoundingClientRect().width > "
            + "0).setAttribute('transform', 'translate(-90 0)')");
        Assert.NotEmpty(await page.EvaluateAsync<string[]>(WordsOutOfPlace));
    }

    private const string Headings = "[...document.querySelectorAll('h2, h3, caption, figcaption, thead')]";

    /// <summary>The margin that the page's own style asks for. [mm]</summary>
    private const string PageMargin = """
        () => {
          for (const sheet of document.styleSheets) {
            for (const rule of sheet.cssRules) {
              if (rule instanceof CSSPageRule) { return String(parseFloat(rule.style.marginLeft)); }
            }
          }
          return "0";
        }
        """;

    private const string StickingOut = """
        width => [...document.body.querySelectorAll('*')].filter(e => {
          if (e.closest('svg') && e.tagName !== 'svg' || e.tagName === 'SCRIPT') { return false; }
          const box = e.getBoundingClientRect();
          if (box.width === 0 || box.height === 0 || getComputedStyle(e).visibility === 'hidden') { return false; }
          const cut = getComputedStyle(e).overflowX !== 'visible' && e.scrollWidth > e.clientWidth + 1;
          return box.left < -0.5 || box.right > width + 0.5 || cut;
        }).map(e => `${e.tagName}.${e.className}: ${e.textContent.trim().slice(0, 60)}`)
        """;

    private const string WordsOutOfPlace = """
        () => {
          const wrong = [];
          for (const svg of document.querySelectorAll('figure .chart svg')) {
            const frame = svg.getBoundingClientRect();
            if (frame.width === 0) { continue; }
            const words = [...svg.querySelectorAll('text')]
              .map(t => ({ text: t.textContent.trim(), box: t.getBoundingClientRect() })).filter(w => w.text !== '' && w.box.width > 0);
            const chart = svg.closest('figure').id;
            for (const [i, { text, box }] of words.entries()) {
              if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) {
                wrong.push(`${chart}: "${text}" sticks out`);
              }
              for (const other of words.slice(0, i)) {
                const across = Math.min(box.right, other.box.right) - Math.max(box.left, other.box.left);
                const down = Math.min(box.bottom, other.box.bottom) - Math.max(box.top, other.box.top);
                if (across > 2 && down > 0.35 * Math.min(box.height, other.box.height)) {
                  wrong.push(`${chart}: "${text}" lies on "${other.text}"`);
                }
              }
            }
          }
          return wrong;
        }
        """;
}
