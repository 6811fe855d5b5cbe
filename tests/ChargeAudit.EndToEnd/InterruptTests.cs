using System.Diagnostics;
using System.Globalization;
using ChargeAudit.Metrology;

namespace ChargeAudit.EndToEnd;

/// <summary>An audit of long logs, interrupted at many moments.</summary>
public sealed class InterruptTests : IDisposable
{
    private const int Rows = 300_000;

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task An_interrupt_leaves_a_whole_report_or_none_and_no_temporary_files()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "interrupts are sent with the system's kill");
        Log("cable.csv", 5.0);
        Log("pad.csv", 7.5);
        var clock = Stopwatch.StartNew();
        Assert.Equal((0, ""), await Interrupted("whole", null));
        var whole = clock.Elapsed;
        int files = Directory.GetFiles(Path.Combine(_folder.Path, "whole"), "*", SearchOption.AllDirectories).Length;
        Assert.True(files >= 8, $"{files} files");

        const string sentence = "chargeaudit: interrupted; nothing was left half-written\n";
        var seen = new List<(int Status, string Error)>();
        foreach (double share in new[] { 0.3, 0.5, 0.7, 0.8, 0.85, 0.9, 0.95, 1.0 })
        {
            string name = InvariantText.Of($"at-{share:F2}");
            var (status, error) = await Interrupted(name, share * whole);
            string folder = Path.Combine(_folder.Path, name);
            string[] left = Directory.Exists(folder) ? Directory.GetFiles(folder, "*", SearchOption.AllDirectories) : [];
            Assert.True(left.Length == (status == 0 ? files : left.Length is 0 ? 0 : files),
                $"{name}: status {status}, {left.Length} of {files} files");
            Assert.DoesNotContain(left, f => f.EndsWith(".part", StringComparison.Ordinal));
            Assert.All(left, f => Assert.True(new FileInfo(f).Length > 100, f));
            seen.Add((status, error));
        }

        // Before the program listens and after its last word, the system itself ends it with the same status and without a word.
        Assert.All(seen, s => Assert.Contains(s, ((int, string)[])[(0, ""), (130, sentence), (130, "")]));
        Assert.Contains((130, sentence), seen);
    }

    // A supervisor sends an interrupt to the process and to its group, and people press the key again.
    [Theory]
    [InlineData("-INT")]
    [InlineData("-HUP")]
    [InlineData("-INT", "-INT")]
    [InlineData("-TERM", "-INT", "-TERM")]
    public async Task A_program_that_waits_for_its_input_can_be_interrupted(params string[] signals)
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "interrupts are sent with the system's kill");
        var start = Run.Interruptible("measure", "-", "--point", "usb");
        start.RedirectStandardInput = true;
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.StandardInput.WriteAsync("time_s,power_W\n0,5\n".AsMemory(), TestContext.Current.CancellationToken);
        await process.StandardInput.FlushAsync(TestContext.Current.CancellationToken);
        await Task.Delay(TimeSpan.FromSeconds(3), TestContext.Current.CancellationToken);
        Assert.False(process.HasExited);
        string kills = string.Join(';', signals.Select(s => InvariantText.Of($"kill {s} {process.Id}")));
        using var kill = Process.Start(new ProcessStartInfo("/bin/sh", ["-c", kills]) { WorkingDirectory = AppContext.BaseDirectory })!;
        bool ended = process.WaitForExit(TimeSpan.FromSeconds(40));
        if (!ended)
        {
            process.Kill(entireProcessTree: true);
        }

        Assert.True(ended, $"{string.Join(' ', signals)} did not end it");
        Assert.Equal((130, "chargeaudit: interrupted; nothing was left half-written"), (process.ExitCode, (await error).TrimEnd()));
    }

    private async Task<(int Status, string Error)> Interrupted(string output, TimeSpan? after)
    {
        var start = Run.Interruptible(
            "audit", "--wired", "cable.csv", "--inductive", "pad.csv", "--point", "usb", "--out", output);
        start.WorkingDirectory = _folder.Path;
        using var process = Process.Start(start)!;
        var text = process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        var error = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        if (after is { } delay)
        {
            await Task.Delay(delay, TestContext.Current.CancellationToken);
            if (!process.HasExited)
            {
                using var kill =
                    Process.Start(new ProcessStartInfo("/bin/kill",
                    ["-INT", process.Id.ToString(CultureInfo.InvariantCulture)])
                    { WorkingDirectory = AppContext.BaseDirectory })!;
                await kill.WaitForExitAsync(TestContext.Current.CancellationToken);
            }
        }

        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        await text;
        return (process.ExitCode, (await error).ReplaceLineEndings("\n"));
    }

    private void Log(string name, double powerW)
    {
        using var log = new StreamWriter(Path.Combine(_folder.Path, name));
        log.Write("Elapsed (s),U (V),I (A)\n");
        string current = (powerW / 5).ToString("F3", CultureInfo.InvariantCulture);
        for (int i = 0; i < Rows; i++)
        {
            log.Write(i.ToString(CultureInfo.InvariantCulture));
            log.Write(i > 0.9 * Rows ? ",5.000,0.010\n" : $",5.000,{current}\n");
        }
    }
}
