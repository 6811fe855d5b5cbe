using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Benchmarks.Reading;

/// <summary>How time and memory grow with the rows of a log: whole processes on logs of rising length, and the bytes that the reading by
/// itself allocates.</summary>
public static class GrowthTable
{
    private const int Rounds = 5;

    /// <summary>Up to 10⁷ rows: a minute.</summary>
    public static IReadOnlyList<long> Usual { get; } = [10_000, 100_000, 1_000_000, 10_000_000];

    /// <summary>Up to 10⁸ rows: several minutes and 2.6 GB of disk.</summary>
    public static IReadOnlyList<long> ToTheLongest { get; } = [.. Usual, 100_000_000];

    /// <summary>Makes a log of each length, measures it and deletes it again.</summary>
    public static void Write(string program, string folder, IReadOnlyList<long> lengths, TextWriter output)
    {
        output.WriteLine(
            "| rows | MB | time of measure, s | on one core, s | gain of two cores | processor time, s | ns of processor a row | peak "
            + "memory, MB | bytes allocated by the reading | bytes a row |");
        output.WriteLine("|---|---|---|---|---|---|---|---|---|---|");
        foreach (long rows in lengths)
        {
            string log = Path.Combine(folder, "growth.csv");
            long bytes = ChargeFile.Write(log, rows, TimeWriting.ElapsedSeconds);
            string[] measured = ["measure", log, "--format", "json"];
            var looked = WholeProcess.Run(program, measured);
            var rounds = Enumerable.Range(0, Rounds)
                .Select(_ => (Free: WholeProcess.Time(program, measured).WallS,
                Held: ReadingCommand.OnCore(0, WholeProcess.Time, program, measured).WallS)).ToList();
            long allocated = AllocatedBytes(log);
            output.WriteLine(
                InvariantText.Of(
                    $"| {rows} | {bytes / 1e6:0.#} | {ReadingCommand.Median(rounds.Select(r => r.Free)):F3} | "
                + $"{ReadingCommand.Median(rounds.Select(r => r.Held)):F3} | "
                + $"{ReadingCommand.Median(rounds.Select(r => r.Held / r.Free)):F2} | {looked.CpuS:F3} | {looked.CpuS / rows * 1e9:F0} | "
                + $"{looked.PeakBytes / 1e6:F0} | {allocated} | {(double)allocated / rows:0.###} |"));
            File.Delete(log);
        }
    }

    // After a first reading, so that what is made once a process does not count.
    private static long AllocatedBytes(string log)
    {
        using var file = LogFile.Open(log);
        Read(file);
        long before = GC.GetTotalAllocatedBytes(precise: true);
        Read(file);
        return GC.GetTotalAllocatedBytes(precise: true) - before;
    }

    private static void Read(LogFile log)
    {
        var sink =
            new IntegratingSink(new LogSummary.Builder(SummaryRules.For(log.Layout, PowerSource.DirectCurrentProduct, new LogOptions())));
        log.ReadInto(ref sink);
        sink.Summary.Finish();
    }
}
