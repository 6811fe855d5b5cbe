using System.ComponentModel;
using System.Diagnostics;

namespace ChargeAudit.Benchmarks.Reading;

/// <summary>What a process took from its start to its end.</summary>
/// <param name="WallS">Time. [s]</param>
/// <param name="CpuS">Processor time of all its threads, up to the last look at it. [s]</param>
/// <param name="PeakBytes">Greatest resident memory seen, mapped pages included. [bytes]</param>
/// <param name="Output">Its standard output.</param>
public sealed record WholeProcess(double WallS, double CpuS, long PeakBytes, string Output)
{
    // The kernel keeps peak and time itself, so looking now and then misses only what is new at the very end.
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(10);

    /// <summary>Runs a program to its end and looks at its memory and processor time meanwhile, which takes a few hundredths of a
    /// core.</summary>
    /// <exception cref="InvalidOperationException">It failed.</exception>
    public static WholeProcess Run(string program, params IReadOnlyList<string> arguments) => Run(looks: true, program, arguments);

    /// <summary>Runs a program to its end with nothing beside it; memory and processor time are not known.</summary>
    /// <exception cref="InvalidOperationException">It failed.</exception>
    public static WholeProcess Time(string program, params IReadOnlyList<string> arguments) => Run(looks: false, program, arguments);

    private static WholeProcess Run(bool looks, string program, IReadOnlyList<string> arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        long before = Stopwatch.GetTimestamp();
        using var process = Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        long peak = 0;
        var cpu = TimeSpan.Zero;
        while (!process.WaitForExit(looks ? LookEvery : Timeout.InfiniteTimeSpan))
        {
            (long peakNow, TimeSpan cpuNow) = Look(process);
            peak = Math.Max(peak, peakNow);
            cpu = cpuNow > cpu ? cpuNow : cpu;
        }

        double wallS = Stopwatch.GetElapsedTime(before).TotalSeconds;
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} {string.Join(' ', arguments)} ended with {process.ExitCode}: {error.Result}");
        }

        return new WholeProcess(wallS, cpu.TotalSeconds, peak, output.Result);
    }

    private static (long PeakBytes, TimeSpan Cpu) Look(Process process)
    {
        try
        {
            process.Refresh();
            return (process.PeakWorkingSet64, process.TotalProcessorTime);
        }
        catch (Exception e) when (e is InvalidOperationException or Win32Exception)
        {
            // It ended between two looks.
            return default;
        }
    }
}
