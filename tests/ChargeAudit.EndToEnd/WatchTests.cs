using System.Text;
using ChargeAudit.Cli.Hosting;

namespace ChargeAudit.EndToEnd;

/// <summary>A log that is appended to while it is watched.</summary>
public sealed class WatchTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task A_log_appended_to_in_pieces_ends_by_itself_and_gives_the_figures_of_one_reading()
    {
        // Cut anywhere, within a row and within a number: 8 W for an hour, then 1.4 W when full. Half an hour of that is complete only
        // with the last piece.
        byte[] whole = Encoding.UTF8.GetBytes(Charge(fullS: 1900));
        string log = _folder.File("growing.csv", whole[..8]);
        using var output = new Heard { NewLine = "\n" };
        var watch = Task.Run(() => Watch(output, log, "--until", "full", "--every", "0.05", "--point", "wall", "--accuracy",
            "power=0.5 % + 10 mW"));
        while (!output.Text.Contains("Waiting for more of the log.", StringComparison.Ordinal))
        {
            await Task.Delay(20, TestContext.Current.CancellationToken);
        }

        await Append(output, log, whole, 8, pieces: 23);
        Assert.Equal(0, await watch.WaitAsync(TimeSpan.FromMinutes(1), TestContext.Current.CancellationToken));

        string text = output.Text;
        Assert.Contains("so far  charging since", text, StringComparison.Ordinal);
        Assert.Contains("The charge ended at", text, StringComparison.Ordinal);
        string joined = text.ReplaceLineEndings(" ");
        Assert.Contains("It may go on within 30 min", joined, StringComparison.Ordinal);
        Assert.Contains("The log is long enough", joined, StringComparison.Ordinal);

        Assert.Contains(" and took ", joined, StringComparison.Ordinal);
        string once = Run.Of("measure", log, "--point", "wall", "--accuracy", "power=0.5 % + 10 mW").Output;
        Assert.EndsWith(once, text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task As_json_it_prints_the_measurement_alone()
    {
        string log = _folder.File("whole.csv", Charge(fullS: 2400));
        using var output = new StringWriter { NewLine = "\n" };
        Assert.Equal(0, await Watch(output, log, "--until", "full", "--every", "0.05", "--format", "json"));
        Assert.Equal(Run.Of("measure", log, "--format", "json").Output, output.ToString());
    }

    [Fact]
    public async Task A_charge_that_may_still_go_on_does_not_end_it_and_an_interrupt_measures_what_is_there()
    {
        string log = _folder.File("pause.csv", Charge(fullS: 1200));
        using var output = new StringWriter { NewLine = "\n" };
        using var interrupt = new CancellationTokenSource(TimeSpan.FromSeconds(2));
        int status = await ChargeAudit.Cli.ChargeAuditProgram.RunAsync(["watch", log, "--until", "full", "--every", "0.05"],
            new CliHost { Output = output, Error = TextWriter.Null }, interrupt.Token);
        Assert.Equal(130, status);
        Assert.DoesNotContain("Long enough", output.ToString(), StringComparison.Ordinal);
        Assert.EndsWith(Run.Of("measure", log).Output, output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_cannot_be_followed_is_refused_at_once()
    {
        Assert.Equal(66, Run.Of("watch", Path.Combine(_folder.Path, "absent.csv")).Status);
        Assert.Equal(64, Run.Of("watch", _folder.File("a.csv", Charge(fullS: 60)), "--every", "0").Status);
    }

    private static Task<int> Watch(TextWriter output, string log, params string[] options) => ChargeAudit.Cli.ChargeAuditProgram.RunAsync(
        ["watch", log, .. options], new CliHost { Output = output, Error = TextWriter.Null }, TestContext.Current.CancellationToken);

    private static async Task Append(Heard output, string log, byte[] whole, int from, int pieces)
    {
        int size = (whole.Length - from + pieces - 1) / pieces;
        for (int at = from; at < whole.Length; at += size)
        {
            int before = output.Text.Length;
            await using (var file = new FileStream(log, FileMode.Append, FileAccess.Write, FileShare.ReadWrite))
            {
                await file.WriteAsync(whole.AsMemory(at, Math.Min(size, whole.Length - at)), TestContext.Current.CancellationToken);
            }

            // The next piece comes once this one has been seen.
            for (int waits = 0; output.Text.Length == before && waits < 100; waits++)
            {
                await Task.Delay(20, TestContext.Current.CancellationToken);
            }
        }
    }

    // Ten minutes of waiting at 0.3 W, an hour of charging at 8 W, then what it takes when full; a row every two seconds.
    internal static string Charge(int fullS)
    {
        var text = new StringBuilder("time_s,power_W\n");
        for (int s = 0; s <= 600 + 3600 + fullS; s += 2)
        {
            string power = s < 600 ? "0.30" : s < 4200 ? "8.00" : "1.40";
            text.Append(s).Append(',').Append(power).Append('\n');
        }

        return text.ToString();
    }

    // What is written may be looked at while it is.
    private sealed class Heard : TextWriter
    {
        private readonly StringBuilder _text = new();

        public override Encoding Encoding => Encoding.UTF8;

        public string Text
        {
            get
            {
                lock (_text)
                {
                    return _text.ToString();
                }
            }
        }

        public override void Write(char value)
        {
            lock (_text)
            {
                _text.Append(value);
            }
        }
    }
}
