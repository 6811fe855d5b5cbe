using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using ChargeAudit.LogMaker;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Files;
using ChargeAudit.Tests.Reach;

namespace ChargeAudit.Benchmarks.Reach;

/// <summary>
/// <c>reach-kills --kills N --writer-kills M --seed S</c>: an audit and a check that write to one folder over and over are killed at random
/// moments, and so is a program that does nothing but write such folders, as that is where a kill could hurt. The folder must hold the
/// whole of one result's files or of the other's after each, and nothing may be left beside it after the next run that ends.
/// </summary>
internal static class ReachKillsCommand
{
    /// <summary>Command of the program that is killed while it writes.</summary>
    public const string Writer = "reach-kills-writer";

    private const string Manifest = "chargeaudit-files.json";

    public static int Run(string[] arguments, TextWriter output)
    {
        int kills = int.Parse(ReachCommand.Of(arguments, "--kills") ?? "100", CultureInfo.InvariantCulture);
        ulong seed = ulong.Parse(ReachCommand.Of(arguments, "--seed") ?? "1", CultureInfo.InvariantCulture);
        string root = Path.Combine(Path.GetTempPath(), InvariantText.Of($"reach-kills-{Environment.ProcessId}"));
        Directory.CreateDirectory(root);
        try
        {
            var dice = new Dice(seed);
            return Math.Max(RunWriter(int.Parse(ReachCommand.Of(arguments, "--writer-kills") ?? "100", CultureInfo.InvariantCulture), dice,
                root, output), kills == 0 ? 0 : Run(kills, dice, root, output));
        }
        finally
        {
            Directory.Delete(root, recursive: true);
        }
    }

    /// <summary>Writes two sets of files into a folder, one after the other, until it is killed.</summary>
    public static int Write(string folder)
    {
        for (int i = 0; ; i++)
        {
            ResultFolder.Write(FilesOf(i), folder);
        }
    }

    // As many and as large as those of a report; the second set has fewer.
    private static List<(string Name, byte[] Bytes)> FilesOf(int number) =>
        [.. Enumerable.Range(0, number % 2 == 0 ? 20 : 12)
            .Select(i => (i < 6 ? $"file-{i}.txt" : $"charts/chart-{i}.svg",
                Enumerable.Repeat((byte)(number % 251), 20_000 * (i + 1)).ToArray()))];

    private static int RunWriter(int kills, Dice dice, string root, TextWriter output)
    {
        string folder = Path.Combine(root, "written");
        ResultFolder.Write(FilesOf(0), folder);
        File.WriteAllText(Path.Combine(folder, "notes.txt"), "the user's own");
        (int Bad, int Beside, int Left) count = default;
        for (int i = 0; i < kills; i++)
        {
            using Process writer = Start(Path.Combine(AppContext.BaseDirectory, "ChargeAudit.Benchmarks.dll"), [Writer, folder]);
            writer.WaitForExit(TimeSpan.FromSeconds(dice.Between(0.15, 0.6)));
            writer.Kill();
            writer.WaitForExit();
            count.Bad += IsWhole(folder, output) ? 0 : 1;
            count.Beside += Directory.GetFileSystemEntries(root, "written.chargeaudit-*").Length > 0 ? 1 : 0;
            if (i % 20 == 19 || i == kills - 1)
            {
                ResultFolder.Write(FilesOf(i), folder);
                count.Left += Directory.GetFileSystemEntries(root, "written.chargeaudit-*").Length
                    + (File.Exists(Path.Combine(folder, "notes.txt")) ? 0 : 1);
            }
        }

        output.WriteLine(Head("kills of a program that writes folders"));
        output.WriteLine(InvariantText.Of($"| {kills} | {kills} | 0 | {count.Bad} | {count.Beside} | {count.Left} |"));
        return count.Bad + count.Left == 0 ? 0 : 1;
    }

    private static string Head(string what) =>
        $"| {what} | killed | ended first | folder neither old nor new | a folder left beside, until the next run | left after it, or a "
        + "user's file lost |\n|---|---|---|---|---|---|";

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
            ["check", Path.Combine(root, "a", "study.toml"), "--baseline", Path.Combine(root, "a", "baseline.json"), "--history",
                Path.Combine(root, "history.jsonl"), "--out", Path.Combine(root, "report"), "--quiet"],
        ];
        string report = Path.Combine(root, "report");
        // The first run of each reads the program from the disk.
        double[] wholeS = [.. commands.Select(c => Math.Min(TimeOf(c), TimeOf(c)))];
        File.WriteAllText(Path.Combine(report, "notes.txt"), "the user's own");
        (int Killed, int Ended, int Bad, int Strays, int LeftForOne) count = default;
        for (int i = 0; i < kills; i++)
        {
            int which = dice.Whole(0, commands.Length - 1);
            using Process program = Start(Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll"), commands[which]);
            if (!program.WaitForExit(TimeSpan.FromSeconds(dice.Between(0.1, 1) * wholeS[which])))
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
                count.Strays += Directory.GetFileSystemEntries(root, "*chargeaudit-*").Length
                    + (File.Exists(Path.Combine(report, "notes.txt")) ? 0 : 1);
            }
        }

        output.WriteLine(Head("runs of audit and check"));
        output.WriteLine(
            InvariantText.Of($"| {kills} | {count.Killed} | {count.Ended} | {count.Bad} | {count.LeftForOne} | {count.Strays} |"));
        return count.Bad + count.Strays == 0 ? 0 : 1;
    }

    // Whole: the manifest says so, every file that it lists holds what it says, and there is none besides but the user's own.
    private static bool IsWhole(string folder, TextWriter output)
    {
        using var manifest = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(folder, Manifest)));
        var listed = manifest.RootElement.GetProperty("files").EnumerateArray()
            .ToDictionary(f => f.GetProperty("name").GetString()!, f => f.GetProperty("sha256").GetString()!);
        string[] there = [.. Directory.GetFiles(folder, "*", SearchOption.AllDirectories)
            .Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/'))];
        bool whole = manifest.RootElement.GetProperty("complete").GetBoolean()
            && there.Where(f => f is not (Manifest or "notes.txt")).Order(StringComparer.Ordinal)
                .SequenceEqual(listed.Keys.Order(StringComparer.Ordinal))
            && there.Contains("notes.txt")
            && listed.All(f =>
                Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(Path.Combine(folder, f.Key))))
                == f.Value);
        if (!whole)
        {
            output.WriteLine($"not whole: {string.Join(", ", there)}");
        }

        return whole;
    }

    private static double TimeOf(string[] command)
    {
        long start = Stopwatch.GetTimestamp();
        using Process program = Start(Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll"), command);
        program.WaitForExit();
        return program.ExitCode <= 2 ? Stopwatch.GetElapsedTime(start).TotalSeconds
            : throw new InvalidOperationException(InvariantText.Of($"{string.Join(' ', command)} gives {program.ExitCode}"));
    }

    private static Process Start(string assembly, string[] command)
    {
        var start = new ProcessStartInfo("dotnet");
        foreach (string argument in (string[])[assembly, .. command])
        {
            start.ArgumentList.Add(argument);
        }

        return Process.Start(start)!;
    }
}
