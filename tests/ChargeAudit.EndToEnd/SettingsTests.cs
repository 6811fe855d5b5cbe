using System.Text.Json;
using ChargeAudit.Cli.Hosting;

namespace ChargeAudit.EndToEnd;

/// <summary>Defaults that a user sets once: the environment before the file, a study and an option before both.</summary>
public sealed class SettingsTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task A_price_from_the_file_is_used_where_nothing_states_one_and_the_report_says_so()
    {
        string file = _folder.File("settings.toml", "price = 0.4\ncurrency = \"EUR\"\n");
        var json = await Audited(_ => null);
        Assert.Equal((0.4, "EUR"), Tariff(json));
        Assert.Contains(json.GetProperty("assumptions").EnumerateArray(), a => a.GetString()!.Contains($"0.4 EUR, was taken from {file};",
            StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_environment_goes_before_the_file_and_an_option_before_both()
    {
        _folder.File("settings.toml", "price = 0.4\ncurrency = \"EUR\"\n");
        string? Variable(string name) => name == "CHARGEAUDIT_PRICE" ? "0.5" : null;
        Assert.Equal((0.5, "EUR"), Tariff(await Audited(Variable)));
        var told = await Audited(Variable, "--price", "0.6");
        Assert.Equal((0.6, "EUR"), Tariff(told));
        Assert.DoesNotContain(told.GetProperty("assumptions").EnumerateArray(), a => a.GetString()!.Contains("was taken from",
            StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_study_s_own_tariff_stands()
    {
        _folder.File("settings.toml", "price = 0.4\ncurrency = \"SEK\"\n");
        var run = await InProcess.With(World(_ => null), "audit", Path.Combine(Repository.SampleLogs, "study.toml"), "--out",
            Path.Combine(_folder.Path, "report"), "--format", "json");
        Assert.Equal((0.31, "EUR"), Tariff(run.Json));
    }

    [Fact]
    public async Task An_accuracy_that_was_set_gives_the_interval_that_the_option_gives_and_is_said_to_be_a_default()
    {
        const string accuracy = "power=0.5 % + 10 mW";
        string log = Path.Combine(Repository.SampleLogs, "pad-1-wall.csv");
        string[] measure = ["measure", log, "--point", "wall", "--format", "json"];
        var set = (await InProcess.With(World(n => n == "CHARGEAUDIT_ACCURACY" ? accuracy : null), measure)).Json.GetProperty("logs")[0];
        var told = (await InProcess.With(World(_ => null), [.. measure, "--accuracy", accuracy])).Json.GetProperty("logs")[0];
        Assert.Equal(told.GetProperty("energy").GetRawText(), set.GetProperty("energy").GetRawText());
        Assert.Equal(JsonValueKind.Number, set.GetProperty("energy").GetProperty("u").ValueKind);
        Assert.Contains("CHARGEAUDIT_ACCURACY", set.GetProperty("doubts").GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain("was taken from", told.GetProperty("doubts").GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_locale_that_was_set_writes_numbers_as_the_option_would()
    {
        string[] measure = ["measure", Path.Combine(Repository.SampleLogs, "pad-1-wall.csv")];
        var set = await InProcess.With(World(n => n == "CHARGEAUDIT_LOCALE" ? "de" : null), measure);
        var told = await InProcess.With(World(_ => null), [.. measure, "--locale", "de"]);
        Assert.Equal(told.Output, set.Output);
        Assert.Contains("29,6 Wh", set.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task They_are_shown_with_where_they_were_set()
    {
        string file = _folder.File("settings.toml", "accuracy = [\"power=0.5 % + 10 mW\", \"energy=1 %\"]\n");
        var run = await InProcess.With(World(n => n == "CHARGEAUDIT_CURRENCY" ? "NOK" : null) with { Width = 200 }, "settings");
        Assert.Equal(0, run.Status);
        string[] lines = run.Output.Split('\n');
        Assert.Contains(lines, l => l.Contains("currency", StringComparison.Ordinal) && l.Contains("NOK", StringComparison.Ordinal)
            && l.Contains("CHARGEAUDIT_CURRENCY", StringComparison.Ordinal));
        Assert.Contains(lines, l => l.Contains("power=0.5 % + 10 mW;energy=1 %", StringComparison.Ordinal));
        Assert.Contains(file, run.Output.ReplaceLineEndings(""), StringComparison.Ordinal);
        Assert.Contains(lines, l => l.Contains(" price ", StringComparison.Ordinal) && l.Contains("not set", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("price = -1\n", "line 1: price is \"-1\"; a number from 0 up")]
    [InlineData("currency = \"EUR\"\nprise = 0.3\n", "line 2: the file of settings has an unknown key \"prise\"; did you mean \"price\"?")]
    [InlineData("accuracy = \"power=good\"\n", "line 1: accuracy is \"power=good\"")]
    [InlineData("currency = \"euro\"\n", "line 1: currency is \"euro\"; a currency code of three capital letters")]
    [InlineData("price = 0.3 0.4\n", "this is not valid TOML")]
    public async Task A_mistake_in_the_file_is_refused_with_its_line(string text, string said)
    {
        string file = _folder.File("settings.toml", text);
        var run = await InProcess.With(World(_ => null), "settings");
        Assert.Equal(65, run.Status);
        Assert.Contains(file, run.Error, StringComparison.Ordinal);
        Assert.Contains(said, run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_price_without_a_currency_and_a_wrong_variable_are_refused()
    {
        var priceless = await InProcess.With(World(n => n == "CHARGEAUDIT_PRICE" ? "0.3" : null), "audit",
            Repository.SampleLogs, "--out", Path.Combine(_folder.Path, "r"));
        Assert.Equal(0, priceless.Status);
        var alone = await InProcess.With(World(n => n == "CHARGEAUDIT_PRICE" ? "0.3" : null), Wired("report"));
        Assert.Equal(64, alone.Status);
        Assert.Contains("sets a price and no currency", alone.Error, StringComparison.Ordinal);
        var wrong = await InProcess.With(World(n => n == "CHARGEAUDIT_PRICE" ? "0,3" : null), "settings");
        Assert.Equal(64, wrong.Status);
        Assert.Contains("CHARGEAUDIT_PRICE is \"0,3\"", wrong.Error, StringComparison.Ordinal);
    }

    private string[] Wired(string report) =>
    [
        "audit", "--wired", Path.Combine(Repository.SampleLogs, "cable-1-wall.csv"), "--inductive",
        Path.Combine(Repository.SampleLogs, "pad-1-wall.csv"), "--point", "wall", "--out", Path.Combine(_folder.Path, report), "--format",
        "json",
    ];

    private async Task<JsonElement> Audited(Func<string, string?> variable, params string[] more)
    {
        var run = await InProcess.With(World(variable), [.. Wired("report"), .. more]);
        Assert.Equal((0, ""), (run.Status, run.Error));
        return run.Json;
    }

    private CliHost World(Func<string, string?> variable) =>
        InProcess.World with { Variable = variable, ConfigurationFolder = _folder.Path };

    private static (double Price, string Currency) Tariff(JsonElement json) => (
        json.GetProperty("tariff").GetProperty("pricePerKwh").GetDouble(), json.GetProperty("tariff").GetProperty("currency").GetString()!);
}
