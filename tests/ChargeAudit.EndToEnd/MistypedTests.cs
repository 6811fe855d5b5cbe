namespace ChargeAudit.EndToEnd;

/// <summary>Command lines with a mistake: the right word is blamed, and what was probably meant is named.</summary>
public sealed class MistypedTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("no command aduit; did you mean audit? See chargeaudit --help", "aduit", "study.toml")]
    [InlineData("no command mesure; did you mean measure?", "mesure", "a.csv")]
    [InlineData("no command xyzzy; the commands are audit, measure", "xyzzy")]
    [InlineData("audit has no option --pint; did you mean --point?", "audit", "--wired", "a.csv", "--inductive", "b.csv", "--pint",
        "wall")]
    [InlineData("measure has no option --fromat; did you mean --format?", "measure", "a.csv", "--fromat", "json")]
    [InlineData("audit has no option --zzzz; see", "audit", "a.toml", "--zzzz")]
    [InlineData("--point is \"wal\", and one of battery, device, usb, wall was expected; did you mean wall? See", "measure", "a.csv",
        "--point", "wal")]
    [InlineData("chargeaudit audit FOLDER compares")]
    [InlineData("measure needs LOG (meter logs); see chargeaudit measure --help", "measure")]
    [InlineData("check needs STUDY (", "check")]
    [InlineData("--interval stands without a value; SECONDS was expected after it; see", "measure", "a.csv", "--interval")]
    [InlineData("--point stands without a value; one of wall, usb, device, battery was expected after it", "measure", "a.csv", "--point")]
    [InlineData("\"x\" stands where page expects nothing more; leave it out", "page", "x")]
    [InlineData("measure has no option -q; see chargeaudit measure --help", "measure", "-q", "a.csv")]
    [InlineData("the word after measure is empty; a name or a value was expected", "measure", "")]
    [InlineData("the word after audit is empty; a name or a value was expected", "audit", "")]
    [InlineData("no command measur; did you mean measure? See chargeaudit man --help", "man", "measur")]
    [InlineData("--interval is 0; the seconds between two rows were expected, above 0", "measure", "a.csv", "--interval", "0")]
    [InlineData("--interval is -5; the seconds", "measure", "a.csv", "--interval", "-5")]
    [InlineData("and voltage has the accuracy \"0.05 %\" already; one for each quantity was expected", "measure", "a.csv", "--accuracy",
        "voltage=0.05 %", "--accuracy", "voltage=1 %")]
    [InlineData("'150 %' is more than the whole reading; expected a share of at most 100 %", "measure", "a.csv", "--accuracy",
        "power=150 %")]
    [InlineData("pwr is no quantity; did you mean power? One of voltage, current, power,", "measure", "a.csv", "--accuracy", "pwr=1 %")]
    [InlineData("'1' has a number without a unit; expected a share", "measure", "a.csv", "--accuracy", "power=1")]
    [InlineData("--currency is \"EURO\"; a code of ISO 4217 was expected, such as EUR", "audit", "--wired", "a.csv", "--inductive",
        "b.csv", "--point", "wall", "--price", "0.3", "--currency", "EURO")]
    [InlineData("--figure is \"x.gif\"; a chart's name and a file were expected, with = between them and .png or .svg at the end", "audit",
        "s.toml", "--figure", "x.gif")]
    [InlineData("--figure is \"power-wall=x.gif\", and the chart's file is \"x.gif\"", "audit", "s.toml", "--figure", "power-wall=x.gif")]
    [InlineData("no option --bogus before a command; name a command first, such as chargeaudit audit us", "--bogus", "us")]
    [InlineData("no option --bogus before a command; name a command first, such as chargeaudit audit;", "--bogus", "aduit")]
    public void The_right_word_is_blamed(string mentions, params string[] arguments)
    {
        var run = Run.In(_folder.Path, arguments);
        Assert.Equal((64, ""), (run.Status, run.Output));
        Assert.Contains(mentions, run.Error, StringComparison.Ordinal);
        Assert.Single(run.Error.TrimEnd('\n').Split('\n'));
    }

    [Fact]
    public void A_folder_without_a_command_is_answered_with_the_command()
    {
        Directory.CreateDirectory(Path.Combine(_folder.Path, "logs"));
        Assert.Contains("did you mean chargeaudit audit logs?", Run.In(_folder.Path, "logs").Error, StringComparison.Ordinal);
    }

    [Fact]
    public void One_log_alone_says_what_to_do_with_it()
    {
        _folder.SampleLogs();
        var run = Run.In(_folder.Path, "audit", "cable-1-wall.csv");
        Assert.Equal((64, ""), (run.Status, run.Output));
        Assert.Contains("cable-1-wall.csv is one log", run.Error, StringComparison.Ordinal);
        Assert.Contains("chargeaudit measure cable-1-wall.csv", run.Error, StringComparison.Ordinal);
        Assert.Contains("chargeaudit audit .", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Logs_alone_are_compared_as_their_names_and_contents_say()
    {
        _folder.SampleLogs();
        string[] logs = ["cable-1-wall.csv", "cable-2-wall.csv", "pad-1-wall.csv", "pad-2-wall.csv"];
        var named = Run.In(_folder.Path, ["audit", .. logs, "--format", "json"]);
        Assert.Equal((0, ""), (named.Status, named.Error));
        Assert.Equal(4, named.Json.GetProperty("logs").GetArrayLength());
        Assert.Contains(
            named.Json.GetProperty("assumptions").EnumerateArray(),
            a => a.GetString()!.Contains("by cable, as the name says \"cable\"", StringComparison.Ordinal));

        // What no shell has replaced, the program does.
        var wild = Run.In(_folder.Path, "audit", "*-[12]-wall.csv", "cable-?-wall.csv", "pad-?-wall.csv", "--format", "json");
        Assert.Equal(66, wild.Status);
        wild = Run.In(_folder.Path, "audit", "cable-?-wall.csv", "pad-?-wall.csv", "--format", "json");
        Assert.Equal((0, ""), (wild.Status, wild.Error));
        Assert.Equal(6, wild.Json.GetProperty("logs").GetArrayLength());
        Assert.Contains(
            "study.toml was named beside", Run.In(_folder.Path, "audit", "study.toml", logs[0]).Error, StringComparison.Ordinal);
    }

    [Fact]
    public void A_study_comes_from_standard_input()
    {
        string study = _folder.SampleLogs();
        var file = Run.In(_folder.Path, "audit", study, "--format", "json");
        var piped = Run.With(_folder.Path, File.ReadAllText(study), "audit", "-", "--format", "json");
        Assert.Equal((0, ""), (piped.Status, piped.Error));
        Assert.Equal(Ratio(file), Ratio(piped));
        Assert.Equal(Hash(file), Hash(piped));
        Assert.Contains("standard input, line 1", Run.With(_folder.Path, "nothing", "audit", "-").Error, StringComparison.Ordinal);

        static string Ratio(Run run) => run.Json.GetProperty("comparisons")[0].GetProperty("overheadRatio").GetRawText();
        static string? Hash(Run run) => run.Json.GetProperty("provenance").GetProperty("studySha256").GetString();
    }

    [Theory]
    [InlineData("measure", "cable-1-wall.csv")]
    [InlineData("measure", "cable-1-wall.csv", "--format", "json")]
    [InlineData("measure", "no-such.csv", "--format", "json")]
    [InlineData("--help")]
    [InlineData("--version")]
    public void An_output_that_takes_nothing_is_73_in_one_sentence(params string[] arguments)
    {
        _folder.SampleLogs();
        string program = $"dotnet {Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll")} {string.Join(' ', arguments)}";
        foreach (string output in (string[])[">/dev/full", ">&-"])
        {
            var run = Run.Process(_folder.Path, "/bin/sh", "-c", $"{program} {output}");
            Assert.Equal((73, ""), (run.Status, run.Output));
            Assert.StartsWith("chargeaudit: standard output cannot be written", run.Error, StringComparison.Ordinal);
            Assert.Single(run.Error.TrimEnd('\n').Split('\n'));
        }
    }
}
