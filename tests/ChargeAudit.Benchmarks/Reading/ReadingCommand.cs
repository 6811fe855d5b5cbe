using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.Json;
using ChargeAudit.Metrology;

namespace ChargeAudit.Benchmarks.Reading;

/// <summary>
/// <c>reading [rows] [rounds] [long]</c>: makes a log, then lets <c>chargeaudit measure</c>, the peer and a bare read of the bytes take
/// turns on it, each as a whole process, and prints medians and ratios; then how time and memory grow with the rows, with <c>long</c> up to
/// 10⁸ rows in a file of 2.6 GB. Only ratios of one run mean anything: absolute times on a shared machine vary severalfold.
/// </summary>
public static class ReadingCommand
{
    private const long UsualRows = 8_000_000;
    private const int UsualRounds = 7;

    // Memory and processor time scatter little.
    private const int LookedRounds = 3;

    // Sums in another order differ in the last digits; a row read wrongly differs in the first.
    private const double SameEnergy = 1e-9;

    /// <summary>One of the ways to run a program.</summary>
    internal delegate WholeProcess Start(string program, params IReadOnlyList<string> arguments);

    private sealed record Contender(string Name, long Rows, Func<Start, WholeProcess> Run)
    {
        public List<WholeProcess> Runs { get; } = [];

        /// <summary>Runs that were looked at, and took longer for it.</summary>
        public List<WholeProcess> Looked { get; } = [];

        public double WallS => Median(Runs.Select(r => r.WallS));
    }

    /// <summary>Runs the comparison and prints its table as Markdown.</summary>
    public static int Run(string[] arguments, TextWriter output)
    {
        long rows = UsualRows;
        int rounds = UsualRounds;
        var growth = arguments is [.., "long"] ? GrowthTable.ToTheLongest : GrowthTable.Usual;
        arguments = arguments is [.. var others, "long"] ? others : arguments;
        if (arguments.Length > 2
            || (arguments.Length > 0 && !long.TryParse(arguments[0], NumberStyles.None, CultureInfo.InvariantCulture, out rows))
            || (arguments.Length > 1 && !int.TryParse(arguments[1], NumberStyles.None, CultureInfo.InvariantCulture, out rounds))
            || rows < 1000 || rounds < 1)
        {
            output.WriteLine(
                "reading takes the number of rows, at least 1000, and the number of rounds, at least 1; long behind them measures logs of "
                + "up to 10^8 rows as well.");
            return 64;
        }

        string folder = Directory.CreateTempSubdirectory("chargeaudit-reading-").FullName;
        try
        {
            string program = Publish(folder);
            Compare(program, folder, rows, rounds, output);
            output.WriteLine();
            GrowthTable.Write(program, folder, growth, output);
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Compare(string program, string folder, long rows, int rounds, TextWriter output)
    {
        string elapsed = Path.Combine(folder, "elapsed.csv");
        string stamped = Path.Combine(folder, "stamped.csv");
        string day = Path.Combine(folder, "day.csv");
        long bytes = ChargeFile.Write(elapsed, rows, TimeWriting.ElapsedSeconds);
        ChargeFile.Write(stamped, rows, TimeWriting.Iso8601);
        FourHours.Write(day);

        string[] measured = ["measure", elapsed, "--format", "json"];
        var ours = new Contender("measure, elapsed seconds", rows, start => start(program, measured));
        var oneCore = new Contender("measure, elapsed seconds, one core", rows, start => OnCore(0, start, program, measured));
        var pair = new Contender("the same twice, side by side on a core each", 2 * rows, start => SideBySide(start, program, measured));
        var iso = new Contender("measure, ISO 8601 stamps", rows, start => start(program, "measure", stamped, "--format", "json"));
        var peer = new Contender("DuckDB.NET, trapezoid sum", rows, start => start(Environment.ProcessPath!, PeerQuery.Name, elapsed));
        var bare = new Contender("bare read of the bytes", rows, _ => BareRead(elapsed));
        var small = new Contender("measure, 4 hours at 1 s", FourHours.Rows, start => start(program, "measure", day, "--format", "json"));
        Contender[] all = [ours, oneCore, pair, iso, peer, bare, small];
        for (int round = 0; round < LookedRounds + rounds; round++)
        {
            // The first rounds warm the file cache as well.
            bool looks = round < LookedRounds;
            foreach (Contender contender in all)
            {
                (looks ? contender.Looked : contender.Runs).Add(contender.Run(looks ? WholeProcess.Run : WholeProcess.Time));
            }
        }

        File.Delete(elapsed);
        File.Delete(stamped);
        double difference = Math.Abs((EnergyWh(ours.Runs[0]) / double.Parse(peer.Runs[0].Output, CultureInfo.InvariantCulture)) - 1);
        if (!(difference < SameEnergy))
        {
            throw new InvalidOperationException(InvariantText.Of($"The energies differ by {difference:E1} of their value."));
        }

        Line(output,
            $"{rows} rows, {bytes / 1e6:F0} MB; {Environment.ProcessorCount} cores, {RuntimeInformation.FrameworkDescription}, "
            + $"{RuntimeInformation.RuntimeIdentifier}; load {LoadAverage()}; medians of {rounds} rounds taken in turn, processor time and "
            + $"memory of {LookedRounds} before them");
        output.WriteLine();
        output.WriteLine(
            "| whole process | time, s | fastest, s | processor time, s | million rows/s | MB/s | peak memory, MB | share of the "
            + "peer's time |");
        output.WriteLine("|---|---|---|---|---|---|---|---|");
        foreach (Contender c in all)
        {
            double mb = c == small || c == iso ? double.NaN : bytes / 1e6 * c.Rows / rows;
            Line(output,
                $"| {c.Name} | {c.WallS:F3} | {c.Runs.Min(r => r.WallS):F3} | {Median(c.Looked.Select(r => r.CpuS)):F3} | "
                + $"{c.Rows / c.WallS / 1e6:F2} | {(double.IsNaN(mb) ? "" : (mb / c.WallS).ToString("F0", CultureInfo.InvariantCulture))} "
                + $"| {Median(c.Looked.Select(r => (double)r.PeakBytes)) / 1e6:F0} | {c.WallS / peer.WallS:F3} |");
        }

        output.WriteLine();
        Line(output,
            $"Time of measure by the peer's: {Ratio(ours, peer)}. Two cores by one: {Ratio(oneCore, ours)}; two programs on two cores by "
            + $"one on one: {Ratio(oneCore, pair, 2)}. ISO 8601 rate by the elapsed-seconds rate: {Ratio(ours, iso)}. Time by a bare "
            + $"read's: {Ratio(ours, bare)}. Energies agree to {difference:E0}.");
    }

    private static void Line(TextWriter output, InvariantText text) => output.WriteLine(text.ToStringAndClear());

    // Rounds are paired: what else the machine does in a round weighs on both sides.
    private static string Ratio(Contender a, Contender b, double factor = 1)
    {
        double[] ratios = [.. a.Runs.Zip(b.Runs, (x, y) => factor * x.WallS / y.WallS)];
        return InvariantText.Of($"{Median(ratios):F2} ({ratios.Min():F2} to {ratios.Max():F2})");
    }

    /// <summary>The middle value, or the mean of the two in the middle.</summary>
    internal static double Median(IEnumerable<double> of)
    {
        double[] values = [.. of.Order()];
        return 0.5 * (values[(values.Length - 1) / 2] + values[values.Length / 2]);
    }

    /// <summary>Runs a program on one core by the kernel's own limit: its pool and its garbage collector see one core as well.</summary>
    internal static WholeProcess OnCore(int core, Start start, string program, string[] arguments) =>
        start("taskset", ["-c", core.ToString(CultureInfo.InvariantCulture), program, .. arguments]);

    // What two cores can give at all: they share caches, memory and, on a rented machine, more.
    private static WholeProcess SideBySide(Start start, string program, string[] arguments)
    {
        var other = Task.Run(() => OnCore(Math.Min(1, Environment.ProcessorCount - 1), start, program, arguments));
        WholeProcess one = OnCore(0, start, program, arguments);
        WholeProcess two = other.GetAwaiter().GetResult();
        return new WholeProcess(Math.Max(one.WallS, two.WallS), one.CpuS + two.CpuS, one.PeakBytes + two.PeakBytes, one.Output);
    }

    private static WholeProcess BareRead(string path)
    {
        long before = Stopwatch.GetTimestamp();
        using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 0);
        byte[] block = new byte[1 << 20];
        while (file.Read(block) > 0)
        {
        }

        double wallS = Stopwatch.GetElapsedTime(before).TotalSeconds;
        return new WholeProcess(wallS, wallS, 0, "");
    }

    private static double EnergyWh(WholeProcess run)
    {
        using var document = JsonDocument.Parse(run.Output);
        return document.RootElement.GetProperty("logs")[0].GetProperty("energy").GetProperty("value").GetDouble();
    }

    /// <summary>What else the machine does.</summary>
    internal static string LoadAverage() => File.Exists("/proc/loadavg")
        ? string.Join(' ', File.ReadAllText("/proc/loadavg").Split(' ').Take(3))
        : "not known";

    /// <summary>Publishes the program for this machine; its path.</summary>
    internal static string Publish(string folder)
    {
        string target = Path.Combine(folder, "program");
        WholeProcess.Run("dotnet", "publish", Path.Combine(Root(), "src", "ChargeAudit.Cli"), "-r", RuntimeInformation.RuntimeIdentifier,
            "-o", target);
        return Path.Combine(target, OperatingSystem.IsWindows() ? "chargeaudit.exe" : "chargeaudit");
    }

    private static string Root()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "ChargeAudit.sln")))
        {
            folder = Path.GetDirectoryName(folder);
        }

        return folder ?? throw new InvalidOperationException("ChargeAudit.sln is in none of the folders above this program.");
    }
}
