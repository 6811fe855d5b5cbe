using System.Text.Json;
using System.Text.RegularExpressions;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace ChargeAudit.EndToEnd;

/// <summary>The family that docs/pool.md walks through: its commands as they stand there, and the truth beside the answers.</summary>
public sealed partial class PoolTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task The_documented_family_is_pooled_and_its_answers_hold_the_truth()
    {
        File.Copy(Path.Combine(Repository.Root, "docs", "pool-family.toml"),
            Path.Combine(Directory.CreateDirectory(Path.Combine(_folder.Path, "docs")).FullName, "pool-family.toml"));
        string page = File.ReadAllText(Path.Combine(Repository.Root, "docs", "pool.md"));
        string[] commands = [.. Command().Matches(page).Select(m => m.Groups["arguments"].Value.Trim())];
        Assert.Contains("pool family/pool.toml --out pooled", commands);
        foreach (string command in commands)
        {
            var run = Run.In(_folder.Path, command.Split(' '));
            Assert.True(run.Status == 0, $"{command}: {run.Error}");
        }

        foreach (string file in new[] { "pooled.html", "pooled.json", "pooled.csv", "pooled.parquet", "pooled.md", "charts/pool-forest.svg",
            "charts/pool-table.png", "charts/pool-ranking.svg" })
        {
            Assert.True(File.Exists(Path.Combine(_folder.Path, "pooled", file)), file);
        }

        // Named by a whole path, the audits are told apart without the folders above them.
        var whole = Run.In(_folder.Path, "pool", Path.Combine(_folder.Path, "family"), "--out", "whole");
        Assert.True(whole.Status == 0, whole.Error);
        foreach (string text in new[] { "pooled", "whole" }.SelectMany(f => Directory.GetFiles(Path.Combine(_folder.Path, f), "pooled.*"))
            .Where(f => !f.EndsWith(".parquet", StringComparison.Ordinal)).Select(File.ReadAllText))
        {
            Assert.DoesNotContain(_folder.Path, text, StringComparison.Ordinal);
        }

        Assert.Contains("device-1/report/results.json", File.ReadAllText(Path.Combine(_folder.Path, "whole", "pooled.json")),
            StringComparison.Ordinal);

        var pooled = JsonDocument.Parse(File.ReadAllText(Path.Combine(_folder.Path, "pooled", "pooled.json"))).RootElement;
        ResultsSchema.Holds(pooled);
        var measured = Run.In(_folder.Path, "inspect", "pooled/pooled.parquet");
        Assert.DoesNotContain("a fault of the program", measured.Error, StringComparison.Ordinal);
        Truth(pooled);
        await Page(Path.Combine(_folder.Path, "pooled", "pooled.html"));
    }

    // True ratios come from truth.json: mean energy at the wall of a pad's runs by that of the cable's.
    private void Truth(JsonElement pooled)
    {
        var truth = Enumerable.Range(1, 6).Select(n => Ratios(Path.Combine(_folder.Path, "family", $"device-{n}", "truth.json"))).ToList();
        foreach (string pad in new[] { "near", "middle", "far" })
        {
            var answer = pooled.GetProperty("figures").EnumerateArray()
                .First(f => f.GetProperty("figure").GetString() == "overhead-ratio" && f.GetProperty("charger").GetString() == pad)
                    .GetProperty("answer");
            double[] logarithms = [.. truth.Select(t => Math.Log(t[pad]))];
            double mean = logarithms.Average(), spread = Math.Sqrt(logarithms.Sum(x => (x - mean) * (x - mean)) / 5);
            Assert.InRange(Math.Exp(mean), answer.GetProperty("mean").GetProperty("low").GetDouble(), answer.GetProperty("mean")
                .GetProperty("high").GetDouble());
            Assert.InRange(spread, answer.GetProperty("spread").GetProperty("low").GetDouble(), answer.GetProperty("spread")
                .GetProperty("high").GetDouble());
        }

        // The meter is one, by its key.
        Assert.Empty(pooled.GetProperty("asOneInstrument").EnumerateArray());
        Assert.All(pooled.GetProperty("audits").EnumerateArray(),
            a => Assert.Equal("plug meter 7", a.GetProperty("instruments").GetProperty("plug").GetString()));
        Assert.Equal(["near", "middle", "far"], pooled.GetProperty("ranking").GetProperty("chargers").EnumerateArray()
            .Select(c => c.GetProperty("charger").GetString()));
    }

    private static Dictionary<string, double> Ratios(string file)
    {
        var energies = JsonDocument.Parse(File.ReadAllText(file)).RootElement.GetProperty("runs").EnumerateArray()
            .ToLookup(r => r.GetProperty("id").GetString()!.Split('-')[0], r => r.GetProperty("energyWh").GetProperty("wall").GetDouble());
        return energies.ToDictionary(g => g.Key, g => g.Average() / energies["cable"].Average());
    }

    private static async Task Page(string file)
    {
        foreach (var (width, scheme) in new[] { (360, ColorScheme.Dark), (1200, ColorScheme.Light) })
        {
            var page = await SharedBrowser.NewPage(new BrowserNewContextOptions
            {
                ViewportSize = new ViewportSize { Width = width, Height = 800 },
                ColorScheme = scheme,
            });
            await page.GotoAsync(new Uri(file).AbsoluteUri);
            Assert.Equal(3, await page.Locator("[role=img]:visible").CountAsync());
            Assert.True(await page.EvaluateAsync<int>("document.documentElement.scrollWidth") <= width,
                $"the page is wider than {width} px");
            foreach (var chart in await page.Locator("[role=img]:visible").AllAsync())
            {
                Assert.False(string.IsNullOrWhiteSpace(await chart.GetAttributeAsync("aria-label")));
            }

            var axe = await page.RunAxe();
            Assert.Empty(axe.Violations.Where(v => v.Impact is "serious" or "critical").Select(v => v.Id));
            await SharedBrowser.Picture(page, $"pooled-{width}-{scheme}.png".ToLowerInvariant());
            await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
            await SharedBrowser.Picture(page, $"pooled-{width}-print.png");
        }
    }

    [GeneratedRegex("^chargeaudit (?<arguments>(?:simulate|audit|pool|plan) [^\n]*)$", RegexOptions.Multiline)]
    private static partial Regex Command();
}
