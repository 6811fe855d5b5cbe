using System.Diagnostics;
using System.Globalization;
using ChargeAudit.Benchmarks.Reading;
using ChargeAudit.Metrology;

namespace ChargeAudit.Benchmarks.Scale;

/// <summary>
/// <c>scale [logs…] [PROGRAM]</c>: makes that many logs of 2 hours, audits them, summarizes them and audits from the summaries, and prints
/// time, processor time, memory and bytes beside what is ideal; then one large log in 1, 4 and 16 parts. The program is the built one that
/// is named, or published first.
/// </summary>
internal static class ScaleCommand
{
    private const int LargeRows = 2_000_000;

    // An audit of more logs than this is made from summaries only.
    private const int MostAuditedDirectly = 1000;

    private static readonly int[] Usual = [10, 100, 1000];
    private static readonly int[] Parts = [1, 4, 16];

    /// <summary>Runs it.</summary>
    public static int Run(string[] arguments, TextWriter output)
    {
        string? named = arguments is [.., var last] && File.Exists(last) ? last : null;
        string[] counts = named is null ? arguments : arguments[..^1];
        List<int> logs = [];
        foreach (string count in counts)
        {
            if (!int.TryParse(count, NumberStyles.None, CultureInfo.InvariantCulture, out int number) || number < 4)
            {
                output.WriteLine("scale takes numbers of logs, each at least 4, and the built program last; 10000 takes 1.5 GB of disk.");
                return 64;
            }

            logs.Add(number);
        }

        string folder = Directory.CreateTempSubdirectory("chargeaudit-scale-").FullName;
        try
        {
            string program = named ?? ReadingCommand.Publish(folder);
            output.WriteLine(InvariantText.Of($"{Environment.ProcessorCount} cores; load {ReadingCommand.LoadAverage()}"));
            output.WriteLine();
            WriteLogs(program, folder, logs.Count == 0 ? Usual : [.. logs], output);
            output.WriteLine();
            WriteParts(program, folder, output);
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void WriteLogs(string program, string folder, IEnumerable<int> counts, TextWriter output)
    {
        output.WriteLine(
            "| logs | what | time, s | processor time, s | ms of processor a log | peak memory, MB | bytes a log | ideal: bytes read, s "
                + "| ideal: processor time of one log times their number, s |");
        output.WriteLine("|---|---|---|---|---|---|---|---|---|");
        foreach (int logs in counts)
        {
            string rack = Path.Combine(folder, "rack");
            long bytes = Rack.Write(rack, logs);
            string study = Path.Combine(rack, "study.toml"), summaries = Path.Combine(rack, "summaries");
            double oneS = OneLogS(program, rack);
            string[] all = [.. Directory.GetFiles(rack, "*.csv")];
            string[] audit = ["audit", study, "--out", Path.Combine(rack, "report"), "--quiet"];
            if (logs <= MostAuditedDirectly)
            {
                Line("audit of the logs", WholeProcess.Run(program, audit), bytes, all);
            }

            Line("summarize", WholeProcess.Run(program, "summarize", "--study", study, "--out", summaries, "--quiet"), bytes, all);
            string[] made = [.. Directory.GetFiles(summaries)];
            Line("audit from summaries", WholeProcess.Run(program, [.. audit, "--summaries", summaries]),
                made.Sum(f => new FileInfo(f).Length), made);
            Directory.Delete(rack, recursive: true);

            void Line(string what, WholeProcess run, long read, string[] files) => output.WriteLine(InvariantText.Of(
                $"| {logs} | {what} | {run.WallS:F2} | {run.CpuS:F2} | {1000 * run.CpuS / logs:F1} | {run.PeakBytes / 1e6:F0} | "
                    + $"{read / logs} | {BareReadS(files):F3} | {oneS * logs:F2} |"));
        }
    }

    // What a log takes by itself once the program runs: ten of them less one, a ninth of it, on one core.
    private static double OneLogS(string program, string rack)
    {
        string[] logs = [.. Enumerable.Range(1, 10).Select(i => Path.Combine(rack, InvariantText.Of($"log-{i}.csv"))).Where(File.Exists)];
        double Of(string[] some) => ReadingCommand.Median(
            Enumerable.Range(0, 3).Select(_ => ReadingCommand.OnCore(0, WholeProcess.Run, program, ["measure", .. some]).CpuS));
        return Math.Max(0, Of(logs) - Of(logs[..1])) / (logs.Length - 1);
    }

    private static double BareReadS(string[] files)
    {
        long before = Stopwatch.GetTimestamp();
        foreach (string file in files)
        {
            File.ReadAllBytes(file);
        }

        return Stopwatch.GetElapsedTime(before).TotalSeconds;
    }

    private static void WriteParts(string program, string folder, TextWriter output)
    {
        string log = Path.Combine(folder, "large.csv");
        Rack.WriteLog(log, new Random(1), LargeRows, 0.01, 1.9);
        output.WriteLine(InvariantText.Of(
            $"One log of {LargeRows} rows, {new FileInfo(log).Length / 1e6:F0} MB; each part is a process of its own, one after the other:"));
        output.WriteLine();
        output.WriteLine(
            "| parts | processor time of all, s | of the longest, s | of joining, s | greatest peak memory, MB | bytes of summaries |");
        output.WriteLine("|---|---|---|---|---|---|");
        foreach (int parts in Parts)
        {
            string summaries = Path.Combine(folder, InvariantText.Of($"parts-{parts}"));
            string[] common = [log, "--point", "usb", "--out", summaries, "--quiet"];
            List<WholeProcess> runs = [.. Enumerable.Range(1, parts).Select(i => WholeProcess.Run(program,
                ["summarize", .. common, .. parts == 1 ? Array.Empty<string>() : ["--part", InvariantText.Of($"{i}/{parts}")]]))];
            long bytes = Directory.GetFiles(summaries).Sum(f => new FileInfo(f).Length);
            var join = parts == 1 ? null : WholeProcess.Run(program, ["summarize", .. common, "--join"]);
            output.WriteLine(InvariantText.Of(
                $"| {parts} | {runs.Sum(r => r.CpuS):F2} | {runs.Max(r => r.CpuS):F2} | {join?.CpuS ?? 0:F2} | "
                    + $"{runs.Append(join ?? runs[0]).Max(r => r.PeakBytes) / 1e6:F0} | {bytes} |"));
        }

        File.Delete(log);
    }
}
