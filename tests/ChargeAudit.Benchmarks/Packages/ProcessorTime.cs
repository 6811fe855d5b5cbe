using System.Runtime.InteropServices;
using ChargeAudit.Benchmarks.Reading;

namespace ChargeAudit.Benchmarks.Packages;

/// <summary>Processor time of whole processes, their starts and ends included, by the kernel's own sum over all that have ended.</summary>
internal static class ProcessorTime
{
    /// <summary>Runs a program several times, one after the other.</summary>
    /// <returns>Processor time of one run. [s]</returns>
    /// <exception cref="InvalidOperationException">It failed.</exception>
    public static double OfRunS(int times, string program, params IReadOnlyList<string> arguments)
    {
        double before = OfEndedS();
        for (int i = 0; i < times; i++)
        {
            WholeProcess.Time(program, arguments);
        }

        return (OfEndedS() - before) / times;
    }

    private static double OfEndedS()
    {
        const int children = -1;
        if (GetUsage(children, out Usage usage) != 0)
        {
            throw new InvalidOperationException("The kernel does not tell the processor time of processes that have ended.");
        }

        return usage.UserS + usage.SystemS + (1e-6 * (usage.UserUs + usage.SystemUs));
    }

    // struct rusage of Linux on 64 bits: two times of seconds and microseconds, then fourteen counts.
    [StructLayout(LayoutKind.Sequential, Size = 18 * sizeof(long))]
    private struct Usage
    {
        public long UserS;
        public long UserUs;
        public long SystemS;
        public long SystemUs;
    }

    [DllImport("libc", EntryPoint = "getrusage")]
    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int GetUsage(int who, out Usage usage);
}
