using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Reach;

namespace ChargeAudit.Benchmarks.Reach;

/// <summary><c>reach --inputs N --seed S [--from NUMBER] [--only FAMILY] [--failures DIR]</c>: damaged and hostile inputs of every kind,
/// counted.</summary>
internal static class ReachCommand
{
    // Processor time, since a busy machine is not a hang; and clock time, for what waits for ever.
    private static readonly TimeSpan Hang = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan Wait = TimeSpan.FromMinutes(10);

    public static int Run(string[] arguments, TextWriter output)
    {
        int inputs = int.Parse(Of(arguments, "--inputs") ?? "10000", CultureInfo.InvariantCulture);
        ulong seed = ulong.Parse(Of(arguments, "--seed") ?? "1", CultureInfo.InvariantCulture);
        string? only = Of(arguments, "--only");
        string? kept = Of(arguments, "--failures");
        using var families = new ReachFamilies(Path.Combine(Path.GetTempPath(), InvariantText.Of($"reach-{Environment.ProcessId}")));
        var run = new ReachRun(families, seed);
        int from = int.Parse(Of(arguments, "--from") ?? "0", CultureInfo.InvariantCulture);
        int at = from;
        DateTime since = DateTime.UtcNow;
        TimeSpan used = Environment.CpuUsage.TotalTime;
        using var watch = new Timer(
            _ =>
            {
                if (Environment.CpuUsage.TotalTime - used > Hang || DateTime.UtcNow - since > Wait)
                {
                    var (family, input) = run.Input(at, only);
                    Keep(kept, new ReachFailure(family.Name, at, "does not end", input), output);
                    Environment.Exit(1);
                }
            },
            null,
            1000,
            1000);
        int failed = 0;
        var seen = new Dictionary<string, int>(StringComparer.Ordinal);
        for (; at < from + inputs; at++)
        {
            (since, used) = (DateTime.UtcNow, Environment.CpuUsage.TotalTime);
            if (run.Try(at, only) is { } failure)
            {
                failed++;
                string kind = failure.Family + Kind(failure.What);
                if ((seen[kind] = seen.GetValueOrDefault(kind) + 1) == 1)
                {
                    Keep(kept, failure, output);
                }
            }
        }

        output.WriteLine(
            "| input | tried | answered | refused with a sentence | asked twice | most processor time for one [s] | most held for "
            + "one [MB] |");
        output.WriteLine("|---|---|---|---|---|---|---|");
        foreach (var c in run.Counts)
        {
            output.WriteLine(
                InvariantText.Of(
                    $"| {c.Family} | {c.Inputs} | {c.Answered} | {c.Refused} | {c.Twice} | {c.LongestS:F1} | {c.MostBytes >> 20} |"));
        }

        output.WriteLine(InvariantText.Of($"{inputs} inputs with seed {seed}: {failed} not as they should be."));
        return failed == 0 ? 0 : 1;
    }

    /// <summary>The value of an option; null where it is not given.</summary>
    public static string? Of(string[] arguments, string name)
    {
        int at = Array.IndexOf(arguments, name);
        return at >= 0 && at + 1 < arguments.Length ? arguments[at + 1] : null;
    }

    // A fault that comes again and again is shown once: by its first lines of our own code.
    private static string Kind(string what) =>
        string.Concat(what.Split('\n')
        .Where((l, i) => l.Contains("ChargeAudit", StringComparison.Ordinal) && !l.Contains("Reach", StringComparison.Ordinal)).Take(2)
        .DefaultIfEmpty(new string([.. what.Take(30)])));

    private static void Keep(string? folder, ReachFailure failure, TextWriter output)
    {
        output.WriteLine(InvariantText.Of($"{failure.Family}, input {failure.Number}: {failure.What}"));
        output.Flush();
        if (folder is not null)
        {
            Directory.CreateDirectory(folder);
            File.WriteAllBytes(
                Path.Combine(folder,
                InvariantText.Of($"{failure.Family.Replace(' ', '-').Replace("'", "", StringComparison.Ordinal)}-{failure.Number}")),
                failure.Input);
        }
    }
}
