using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Html;

namespace ChargeAudit.Tests.Reports.Html;

public sealed class HtmlPageTests
{
    private const string Hostile = "<img src=x onerror=alert(1)>\"'&</style></script>";

    private static readonly Lazy<IDocument> Page = new(() => Parse(HtmlPage.Of(Small().Build())));
    private static readonly Lazy<IDocument> Bare = new(() =>
        Parse(HtmlPage.Of((Small() with { KnownUncertainty = false, WallMeasured = false, PriceOrNone = 0, Runs = 1 }).Build())));

    [Fact]
    public void It_opens_with_the_answer_its_interval_and_the_cost_of_a_year()
    {
        var header = Page.Value.QuerySelector("header")!;
        Assert.Matches(
            @"^Charging on the pad uses 5\d\.\d % more energy at the wall than charging by cable "
            + @"\(95 % interval 5\d\.\d to 5\d\.\d %\)\.$", Plain(header.QuerySelector(".answer")!));
        Assert.Contains(
            "A year of charging on the pad costs 1.57 EUR (1.55 to 1.59) more than by cable.", Plain(header), StringComparison.Ordinal);
        Assert.Equal(3, header.QuerySelectorAll("dl.key dd strong").Length);
    }

    // More than is held at a time, in charts and in rows.
    [Fact]
    public void Written_piece_by_piece_it_is_the_same()
    {
        var result = (Small() with { Runs = 20 }).Build();
        var charts = ChartSet.Of(result, TestContext.Current.CancellationToken);
        using var written = new StringWriter();
        HtmlPage.Write(result, charts, written);
        Assert.Equal(HtmlPage.Of(result, charts), written.ToString());
    }

    [Fact]
    public void Without_uncertainty_it_says_so_in_the_first_sentence()
    {
        string answer = Plain(Bare.Value.QuerySelector(".answer")!);
        Assert.Contains("(uncertainty not known: no accuracy is given for the meter)", answer, StringComparison.Ordinal);
        Assert.DoesNotContain("interval", answer, StringComparison.Ordinal);
    }

    [Fact]
    public void Missing_figures_give_their_reason_and_no_cell_is_blank_or_no_number()
    {
        foreach (var page in new[] { Page.Value, Bare.Value })
        {
            var cells = page.QuerySelectorAll("td, th, dd").Select(Plain).ToList();
            Assert.NotEmpty(cells);
            Assert.DoesNotContain(cells, c => string.IsNullOrWhiteSpace(c) || c.Contains("NaN", StringComparison.Ordinal)
                || c.Contains('∞', StringComparison.Ordinal));
        }

        Assert.Contains("no meter sat at the wall, and the adapter's efficiency is not known", Plain(Bare.Value.QuerySelector("#year")!),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Names_from_users_never_become_markup()
    {
        var page = Parse(HtmlPage.Of((Small() with { Title = Hostile, Pad = Hostile, Device = Hostile, CommandLine = Hostile }).Build()));
        Assert.Empty(page.QuerySelectorAll("img"));
        Assert.DoesNotContain(page.All, e => e.Attributes.Any(a => a.Name.StartsWith("on", StringComparison.OrdinalIgnoreCase)));
        Assert.Single(page.QuerySelectorAll("style"));
        Assert.Equal(Hostile, page.QuerySelector("h1")!.TextContent);
        Assert.Equal(Hostile, page.Title);
        Assert.Equal(Hostile, page.QuerySelector("pre code")!.TextContent);
        Assert.Equal(Page.Value.QuerySelector("main")!.QuerySelectorAll("section *:not(svg *)").Length,
            page.QuerySelector("main")!.QuerySelectorAll("section *:not(svg *)").Length);
    }

    [Fact]
    public void Nothing_refers_to_anything_outside_the_page()
    {
        foreach (var element in Page.Value.All)
        {
            foreach (var attribute in element.Attributes.Where(a => a.LocalName is "src" or "href" or "srcset" or "data" or "action"
                or "poster"))
            {
                Assert.StartsWith("#", attribute.Value, StringComparison.Ordinal);
                Assert.NotNull(Page.Value.GetElementById(attribute.Value[1..]));
            }
        }

        string style = Page.Value.QuerySelector("style")!.TextContent;
        Assert.All(style.Split("url(").Skip(1), u => Assert.StartsWith("data:font/woff2;base64,", u, StringComparison.Ordinal));
        Assert.DoesNotContain("@import", style, StringComparison.Ordinal);
        Assert.Contains("default-src 'none'", Page.Value.QuerySelector("meta[http-equiv]")!.GetAttribute("content"),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Headings_go_down_one_step_at_a_time_and_landmarks_are_there()
    {
        var levels = Page.Value.QuerySelectorAll("h1,h2,h3,h4").Select(h => h.LocalName[1] - '0').ToList();
        Assert.Equal(1, levels[0]);
        Assert.Single(levels, l => l == 1);
        Assert.All(levels.Zip(levels.Skip(1)), p => Assert.True(p.Second <= p.First + 1));
        Assert.All(["header", "nav", "main", "footer"], name => Assert.Single(Page.Value.QuerySelectorAll(name)));
        Assert.Equal("en", Page.Value.DocumentElement.GetAttribute("lang"));
    }

    [Fact]
    public void Ids_are_unique()
    {
        var ids = Page.Value.All.Select(e => e.Id).OfType<string>().Where(i => i.Length > 0).ToList();
        Assert.Equal(ids.Count, ids.Distinct().Count());
    }

    [Fact]
    public void Every_chart_is_an_image_with_words_in_its_place()
    {
        var charts = Page.Value.QuerySelectorAll("figure .chart");
        Assert.Equal(10, charts.Length);
        Assert.All(charts, c =>
        {
            Assert.Equal("img", c.GetAttribute("role"));
            Assert.True(c.GetAttribute("aria-label")!.Length > 30);
            Assert.Equal(2, c.QuerySelectorAll("svg[viewBox][aria-hidden=true]").Length);
        });
        Assert.Contains("pad, wall:", charts.First(c => c.ParentElement!.Id == "chart-energy-per-charge").GetAttribute("aria-label"),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Every_table_has_a_caption_scopes_and_full_rows()
    {
        var tables = Page.Value.QuerySelectorAll("table");
        Assert.True(tables.Length >= 10);
        Assert.All(tables, t =>
        {
            Assert.NotEmpty(Plain(t.QuerySelector("caption")!));
            int columns = t.QuerySelectorAll("thead th[scope=col]").Length;
            Assert.All(t.QuerySelectorAll("tbody tr"), r =>
            {
                Assert.Equal(columns, r.Children.Length);
                Assert.Equal("row", r.Children[0].GetAttribute("scope"));
            });
        });
    }

    [Fact]
    public void Every_run_stands_in_the_table_and_those_left_out_say_why()
    {
        string energy = Plain(Page.Value.QuerySelector("#energy")!);
        Assert.All(new[] { "cable-1", "cable-2", "cable-3", "pad-1", "pad-2", "pad-3", "pad-4" },
            id => Assert.Contains(id, energy, StringComparison.Ordinal));
        Assert.Contains("left out: the device rang during this charge", energy, StringComparison.Ordinal);
    }

    [Fact]
    public void Faults_stand_with_their_line_and_the_budget_with_shares_that_add_up()
    {
        Assert.Contains("line 412", Plain(Page.Value.QuerySelector("#faults")!), StringComparison.Ordinal);
        var budgets = Page.Value.QuerySelectorAll("#uncertainty table");
        var budget = budgets[^1];
        double sum = budget.QuerySelectorAll("tbody tr").SkipLast(1)
            .Sum(r => double.Parse(Plain(r.Children[2]).TrimEnd('%', ' '), System.Globalization.CultureInfo.InvariantCulture));
        Assert.Equal(100, sum, 1e-9);
    }

    [Fact]
    public void What_cancels_in_the_ratio_is_said_to_cancel()
    {
        var ratio = Page.Value.QuerySelector("#uncertainty table")!;
        var gain = ratio.QuerySelectorAll("tbody tr").Single(r => Plain(r.Children[0]) == "meter plug: power gain");
        Assert.Equal("cancels", Plain(gain.Children[1]));
    }

    [Fact]
    public void The_policy_lets_the_page_s_own_script_run_and_no_other()
    {
        var script = Assert.Single(Page.Value.QuerySelectorAll("script:not([type])"));
        string hash =
            Convert.ToBase64String(System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(script.TextContent)));
        Assert.Contains($"script-src 'sha256-{hash}';", Page.Value.QuerySelector("meta[http-equiv]")!.GetAttribute("content"),
            StringComparison.Ordinal);
        Assert.Contains("Permission is hereby granted", script.TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public void The_numbers_behind_the_curves_hold_the_extremes_and_cannot_end_their_element()
    {
        var page = Parse(HtmlPage.Of((Small() with { Pad = Hostile }).Build()));
        var data = page.QuerySelectorAll("script[data-chart]");
        Assert.Equal(4, data.Length);
        var power = System.Text.Json.JsonDocument.Parse(data[0].TextContent).RootElement.GetProperty("series")[1];
        Assert.Equal(Hostile, power.GetProperty("name").GetString());
        var result = Small().Build();
        double peak = result.Methods[1].Runs[1].Points[ChargeAudit.Logs.MeasuringPoint.Wall].Log.PeakPowerW;
        double greatest = power.GetProperty("greatest").EnumerateArray().Where(v => v.ValueKind == System.Text.Json.JsonValueKind.Number)
            .Max(v => v.GetDouble());
        Assert.Equal(peak, greatest, 0.01);
    }

    [Fact]
    public void A_study_with_nothing_to_compare_still_makes_a_page()
    {
        var result = Small().Build();
        var page = Parse(HtmlPage.Of(result with
        {
            Comparisons = [],
            Methods = [],
            Logs = [],
            Stages = [],
            Losses = [],
            AdapterCurves = [],
            Fairness = [],
            Assumptions = [],
        }));
        Assert.StartsWith("There is nothing to compare", Plain(page.QuerySelector(".answer")!), StringComparison.Ordinal);
        Assert.Empty(page.QuerySelectorAll("figure"));
    }

    [Fact]
    public void Twelve_logs_of_ten_thousand_samples_stay_below_a_megabyte_and_a_half() =>
        Assert.InRange(HtmlPage.Of(new ReportFixture { SamplesPerLog = 10_000, IntervalS = 0.9 }.Build()).Length, 100_000, 1_500_000);

    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void The_page_is_the_same_under_every_culture_and_in_every_run(string culture) =>
        Assert.Equal(HtmlPage.Of(Small().Build()), Golden.Under(culture, () => HtmlPage.Of(Small().Build())));

    [Fact]
    public void The_interval_that_includes_one_is_called_no_difference()
    {
        var result = Small().Build();
        var same = Figure.Of(ChargeAudit.Metrology.Uncertainty.Measured.From(1.01, "1", [new(new("a"), 0.02)]));
        string answer = Plain(Parse(HtmlPage.Of(result with { Comparisons = [result.Comparisons[0] with { OverheadRatio = same }] }))
            .QuerySelector(".answer")!);
        Assert.Contains("it includes 0, so no difference is shown", answer, StringComparison.Ordinal);
    }

    private static ReportFixture Small() => new() { SamplesPerLog = 60, IntervalS = 120 };

    private static IDocument Parse(string html) => new HtmlParser().ParseDocument(html);

    private static string Plain(IElement element) => element.TextContent.Replace('\u00a0', ' ').Trim();
}
