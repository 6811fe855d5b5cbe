using System.Text.Json;
using System.Text.RegularExpressions;
using ChargeAudit.Cli;

namespace ChargeAudit.EndToEnd;

/// <summary>What a terminal shows: lines that fit, colours only where they are wanted, progress only where somebody watches, and one
/// document for programs.</summary>
public sealed partial class TerminalTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(40)]
    [InlineData(60)]
    [InlineData(80)]
    [InlineData(132)]
    [InlineData(200)]
    public async Task Every_command_s_text_fits_the_width(int width)
    {
        foreach (var (command, arguments) in EveryCommand.In(_folder))
        {
            var run = await InProcess.With(InProcess.World with { Width = width }, arguments);
            Assert.True(run.Status is 0 or 2, $"{command}: {run.Error}");
            Assert.True(run.Output.Length > 40, command);
            Assert.All(run.Output.Split('\n'),
                line => Assert.True(line.Length <= width, $"{command} at {width}: {line.Length} columns in \"{line}\""));
        }
    }

    // A word that stands whole on no line was cut by its table.
    [Theory]
    [InlineData(40)]
    [InlineData(60)]
    public async Task On_a_narrow_terminal_tables_are_lists_and_no_figure_is_broken(int width)
    {
        string study = _folder.SampleLogs();
        string[] arguments = ["audit", study, "--out", Path.Combine(_folder.Path, "report")];
        var wide = await InProcess.With(InProcess.World with { Width = 200 }, arguments);
        var narrow = await InProcess.With(InProcess.World with { Width = width }, [.. arguments, "--overwrite"]);
        Assert.DoesNotContain('─', narrow.Output);
        Assert.Contains('─', wide.Output);
        string[] lines = narrow.Output.Split('\n');
        Assert.Contains("- measured at: wall", lines);
        Assert.Contains("  method: cable", lines);
        string path = _folder.Path;
        var words = wide.Output.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Where(w => w.Length <= width - 2 && !w.Contains('─') && !w.StartsWith(path, StringComparison.Ordinal));
        Assert.All(words.Distinct(), w => Assert.Contains(w, narrow.Output, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Every_command_has_one_json_document_and_nothing_else()
    {
        var tree = ChargeAuditProgram.CommandTree(InProcess.World);
        var withFormat = tree.Subcommands.Where(c => c.Options.Any(o => o.Name == "--format")).Select(c => c.Name).ToHashSet();
        var seen = new HashSet<string>();
        foreach (var (command, arguments) in EveryCommand.In(_folder).Where(c => withFormat.Contains(c.Command)))
        {
            var run = await InProcess.With(InProcess.World, [.. arguments, "--format", "json"]);
            Assert.True(run.Status is 0 or 2, $"{command}: {run.Error}");
            Assert.Equal(JsonValueKind.Object, run.Json.ValueKind);
            Assert.True(run.Json.TryGetProperty("schema", out _), $"{command} does not name its schema");
            Assert.Equal("", run.Error);
            seen.Add(command);
        }

        Assert.True(withFormat.IsSubsetOf(seen), $"not tried: {string.Join(", ", withFormat.Except(seen))}");

        // Scripts and pages for other programs and a table that only people read.
        string[] without = ["page", "completion", "man", "settings"];
        Assert.Empty(tree.Subcommands.Select(c => c.Name).Except(without).Except(withFormat));
    }

    [Fact]
    public void No_colour_is_sent_into_a_pipe()
    {
        var run = Run.Apart(_folder.Path, "measure", Path.Combine(Repository.SampleLogs, "cable-1-wall.csv"));
        Assert.Equal(0, run.Status);
        Assert.DoesNotContain('\u001b', run.Output + run.Error);
    }

    [Fact]
    public void A_terminal_gets_bold_titles_and_none_where_NO_COLOR_is_set()
    {
        string program =
            $"dotnet {Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll")} measure "
            + $"{Path.Combine(Repository.SampleLogs, "cable-1-wall.csv")}";
        string script = Needs.Pseudoterminal();
        var plain = Run.Process(_folder.Path, "/usr/bin/env", "-u", "NO_COLOR", "TERM=xterm-256color", "COLUMNS=100", script, "-qec",
            program, "/dev/null");
        Assert.Equal(0, plain.Status);
        Assert.Contains("\u001b[1m", plain.Output, StringComparison.Ordinal);
        var without = Run.Process(_folder.Path, "/usr/bin/env", "NO_COLOR=1", "TERM=xterm-256color", "COLUMNS=100", script, "-qec", program,
            "/dev/null");
        Assert.Equal(0, without.Status);

        // The runtime's own console asks the terminal for its keypad keys (terminfo's smkx) before the first word; that colours nothing.
        Assert.DoesNotMatch(Escape(), without.Output.Replace("\u001b[?1h\u001b=", "", StringComparison.Ordinal));
        Assert.Contains("Energy", without.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\u001b[1m", true)]
    [InlineData("\u001b[?25l", true)]
    [InlineData("\u001b[2K", true)]
    [InlineData("\u001b]8;;http://example.org\u001b\\", true)]
    [InlineData("\u001b]0;title\u0007", true)]
    [InlineData("\u001b7", true)]
    [InlineData("\u009b31m", true)]
    [InlineData("Energy [Wh] 31m\r\n", false)]
    public void Any_escape_is_known_as_one(string text, bool escape) => Assert.Equal(escape, Escape().IsMatch(text));

    [Theory]
    [InlineData("audit")]
    [InlineData("check")]
    [InlineData("measure")]
    [InlineData("inspect")]
    public async Task A_long_reading_shows_its_rate_and_the_time_left_on_a_terminal_and_wipes_them(string command)
    {
        string[] arguments = await Prepared(command);
        var run = await InProcess.With(InProcess.World with { ErrorIsTerminal = true, Clock = new SlowClock() }, arguments);
        Assert.True(run.Status is 0 or 2, run.Error);
        var shown = run.Error.Split('\r').Where(s => s.Contains('%')).ToList();
        Assert.NotEmpty(shown);
        Assert.All(shown, s => Assert.Matches(Progress(), s.TrimEnd()));
        Assert.Matches(@"\r +\r(Next: |$)", run.Error);
    }

    [Theory]
    [InlineData("audit")]
    [InlineData("measure")]
    public async Task No_progress_is_written_where_nobody_watches_or_quiet_is_asked_for(string command)
    {
        string[] arguments = await Prepared(command);
        Assert.Equal("", (await InProcess.With(InProcess.World with { Clock = new SlowClock() }, arguments)).Error);
        Assert.Equal("",
            (await InProcess.With(InProcess.World with { ErrorIsTerminal = true, Clock = new SlowClock() },
            [.. arguments, "--quiet"])).Error);
    }

    private async Task<string[]> Prepared(string command)
    {
        foreach (var (name, arguments) in EveryCommand.In(_folder))
        {
            if (name == command)
            {
                return arguments;
            }

            // A check reads what an audit wrote; the others read logs.
            if (name == "audit" && command == "check")
            {
                await InProcess.With(InProcess.World, arguments);
            }
        }

        throw new ArgumentException($"no example of {command}", nameof(command));
    }

    // Every control sequence begins with one of these, whatever its final byte. Source: ECMA-48, 5.3 and 5.4: ESC, or the single characters
    // DCS, CSI, OSC and ST.
    [GeneratedRegex("[\u001b\u0090\u009b\u009c\u009d]")]
    private static partial Regex Escape();

    [GeneratedRegex(@"^(log \d+ of \d+, )?[a-z0-9-]+\.csv: \d{1,3} %, \d+(\.\d)? MB/s(, \d+ (s|min) left)?$")]
    private static partial Regex Progress();

    /// <summary>A clock on which everything takes long.</summary>
    private sealed class SlowClock : TimeProvider
    {
        private long _ticks;

        public override long TimestampFrequency => 1;

        public override long GetTimestamp() => Interlocked.Increment(ref _ticks);
    }
}
