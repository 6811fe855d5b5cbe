using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using ChargeAudit.LogMaker;
using ChargeAudit.Tests.Reach;

namespace ChargeAudit.Benchmarks.Reach;

/// <summary>
/// <c>reach-kills --kills N --seed S</c>: an audit and a check that write to one folder over and over are killed at random moments; the folder must hold the whole of one study's files or of the
/// other's after each, and nothing may be left beside it after the next run that ends.
/// </summary>
internal static class ReachKillsCommand
{
    private const string Manifest = "chargeaudit-files.json";

    public static int Run(string[] arguments, TextWriter output)
    {
        int kills = int.Parse(ReachCommand.Of(arguments, "--kills") ?? "100", CultureInfo.InvariantCulture);
        ulong seed = ulong.Parse(ReachCommand.Of(arguments, "--seed") ?? "1", CultureInfo.InvariantCulture);
        string root = Path.Combine(Path.GetTempPath(), FormattableString.Invariant($"reach-kills-{Environment.ProcessId}"));
        Directory.CreateDirectory(root);
        try
        {
            return Run(kills, new Dice(seed), root, output);
        }
        finally
        {
            Directory.Delete(root, recursive: true);
        }
    }

    private static int Run(int kills, Dice dice, string root, TextWriter output)
    {
        // Two studies whose reports differ in their files, too: only one has stand-by logs and factors.
        using (new ReachFamilies(Path.Combine(root, "a"), keeps: true))
        {
        }

        string[][] commands =
        [
            ["audit", Path.Combine(root, "a", "study.toml"), "--out", Path.Combine(root, "report"), "--quiet"],
            ["audit", Path.Combine(root, "a", "places.toml"), "--out", Path.Combine(root, "report"), "--quiet"],
            ["check", Path.Combine(root, "a", "study.toml"), "--baseline", Path.Combine(root, "a", "baseline.json"), "--history", Path.Combine(root, "history.jsonl"), "--out", Path.Combine(root, "report"), "--quiet"],
        ];
        string report = Path.Combine(root, "report");
        double wholeS = commands.Max(c => TimeOf(c));
        File.WriteAllText(Path.Combine(report, "notes.txt"), "the user's own");
        (int Killed, int Ended, int Bad, int Strays, int LeftForOne) count = default;
        for (int i = 0; i < kills; i++)
        {
            using Process program = Start(dice.Of(commands));
            if (!program.WaitForExit(TimeSpan.FromSeconds(dice.Between(0.1, 1.1) * wholeS)))
            {
                program.Kill();
                program.WaitForExit();
                count.Killed++;
            }
            else
            {
                count.Ended++;
            }

            count.Bad += IsWhole(report, output) ? 0 : 1;
            count.LeftForOne += Directory.GetFileSystemEntries(root, "*.chargeaudit-*").Length > 0 ? 1 : 0;
            if (i % 20 == 19 || i == kills - 1)
            {
                TimeOf(commands[0]);
                count.Strays += Directory.GetFileSystemEntries(root, "*chargeaudit-*").Length + (File.Exists(Path.Combine(report, "notes.txt")) ? 0 : 1);
            }
        }

        output.WriteLine("| runs | killed | ended first | folder neither old nor new | a folder left beside, until the next run | left after it, or a user's file lost |");
        output.WriteLine("|---|---|---|---|---|---|");
        output.WriteLine(FormattableString.Invariant($"| {kills} | {count.Killed} | {count.Ended} | {count.Bad} | {count.LeftForOne} | {count.Strays} |"));
        return count.Bad + count.Strays == 0 ? 0 : 1;
    }

    // Whole: the manifest says so, every file that it lists holds what it says, and there is none besides but the user's own.
    private static bool IsWhole(string folder, TextWriter output)
    {
        using var manifest = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(folder, Manifest)));
        var listed = manifest.RootElement.GetProperty("files").EnumerateArray().ToDictionary(f => f.GetProperty("name").GetString()!, f => f.GetProperty("sha256").GetString()!);
        string[] there = [.. Directory.GetFiles(folder, "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/'))];
        bool whole = manifest.RootElement.GetProperty("complete").GetBoolean()
            && there.Where(f => f is not (Manifest or "notes.txt")).Order(StringComparer.Ordinal).SequenceEqual(listed.Keys.Order(StringComparer.Ordinal))
            && there.Contains("notes.txt")
            && listed.All(f => Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(Path.Combine(folder, f.Key)))) == f.Value);
        if (!whole)
        {
            output.WriteLine($"not whole: {string.Join(", ", there)}");
        }

        return whole;
    }

    private static double TimeOf(string[] command)
    {
        long start = Stopwatch.GetTimestamp();
        using Process program = Start(command);
        program.WaitForExit();
        return program.ExitCode <= 2 ? Stopwatch.GetElapsedTime(start).TotalSeconds : throw new InvalidOperationException(FormattableString.Invariant($"{string.Join(' ', command)} gives {program.ExitCode}"));
    }

    private static Process Start(string[] command)
    {
        var start = new ProcessStartInfo("dotnet");
        foreach (string argument in (string[])[Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll"), .. command])
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }
}
