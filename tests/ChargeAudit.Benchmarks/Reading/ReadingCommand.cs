using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.Json;

namespace ChargeAudit.Benchmarks.Reading;

/// <summary>
/// <c>reading [rows] [rounds] [long]</c>: makes a log, then lets <c>chargeaudit measure</c>, the peer and a bare read of the bytes take turns on it, each as a whole process, and
/// prints medians and ratios; then how time and memory grow with the rows, with <c>long</c> up to 10⁸ rows in a file of 2.6 GB. Only ratios of one run mean anything: absolute times on a shared machine vary severalfold.
/// </summary>
public static class ReadingCommand
{
    private const long UsualRows = 8_000_000;
    private const int UsualRounds = 7;

    // Sums in another order differ in the last digits; a row read wrongly differs in the first.
    private const double SameEnergy = 1e-9;

    private sealed record Contender(string Name, long Rows, Func<WholeProcess> Run)
    {
        public List<WholeProcess> Runs { get; } = [];

        public double WallS => Median(r => r.WallS);

        public double Median(Func<WholeProcess, double> of)
        {
            double[] values = [.. Runs.Select(of).Order()];
            return 0.5 * (values[(values.Length - 1) / 2] + values[values.Length / 2]);
        }
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
            output.WriteLine("reading takes the number of rows, at least 1000, and the number of rounds, at least 1; long behind them measures logs of up to 10^8 rows as well.");
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

        var ours = new Contender("measure, elapsed seconds", rows, () => Measure(program, elapsed));
        var oneCore = new Contender("measure, elapsed seconds, one core", rows, () => OnOneCore(program, elapsed));
        var iso = new Contender("measure, ISO 8601 stamps", rows, () => Measure(program, stamped));
        var peer = new Contender("DuckDB.NET, trapezoid sum", rows, () => WholeProcess.Run(Environment.ProcessPath!, PeerQuery.Name, elapsed));
        var bare = new Contender("bare read of the bytes", rows, () => BareRead(elapsed));
        var small = new Contender("measure, 4 hours at 1 s", FourHours.Rows, () => Measure(program, day));
        Contender[] all = [ours, oneCore, iso, peer, bare, small];
        for (int round = 0; round <= rounds; round++)
        {
            foreach (Contender contender in all)
            {
                WholeProcess run = contender.Run();
                if (round > 0)
                {
                    // The first round only warms the file cache.
                    contender.Runs.Add(run);
                }
            }
        }

        File.Delete(elapsed);
        File.Delete(stamped);
        double difference = Math.Abs((EnergyWh(ours.Runs[0]) / double.Parse(peer.Runs[0].Output, CultureInfo.InvariantCulture)) - 1);
        if (!(difference < SameEnergy))
        {
            throw new InvalidOperationException(string.Create(CultureInfo.InvariantCulture, $"The energies differ by {difference:E1} of their value."));
        }

        Line(output, $"{rows} rows, {bytes / 1e6:F0} MB; {Environment.ProcessorCount} cores, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.RuntimeIdentifier}; load {LoadAverage()}; medians of {rounds} rounds taken in turn");
        output.WriteLine();
        output.WriteLine("| whole process | time, s | fastest, s | processor time, s | million rows/s | MB/s | peak memory, MB | share of the peer's time |");
        output.WriteLine("|---|---|---|---|---|---|---|---|");
        foreach (Contender c in all)
        {
            double mb = c == small || c == iso ? double.NaN : bytes / 1e6;
            Line(output, $"| {c.Name} | {c.WallS:F3} | {c.Runs.Min(r => r.WallS):F3} | {c.Median(r => r.CpuS):F3} | {c.Rows / c.WallS / 1e6:F2} | {(double.IsNaN(mb) ? "" : (mb / c.WallS).ToString("F0", CultureInfo.InvariantCulture))} | {c.Median(r => r.PeakBytes) / 1e6:F0} | {c.WallS / peer.WallS:F3} |");
        }

        output.WriteLine();
        Line(output, $"Time of measure by the peer's: {Ratio(ours, peer)}. Two cores by one: {Ratio(oneCore, ours)}. ISO 8601 rate by the elapsed-seconds rate: {Ratio(ours, iso)}. Time by a bare read's: {Ratio(ours, bare)}. Energies agree to {difference:E0}.");
    }

    private static void Line(TextWriter output, FormattableString text) => output.WriteLine(text.ToString(CultureInfo.InvariantCulture));

    // Rounds are paired: what else the machine does in a round weighs on both sides.
    private static string Ratio(Contender a, Contender b)
    {
        double[] ratios = [.. a.Runs.Zip(b.Runs, (x, y) => x.WallS / y.WallS).Order()];
        return string.Create(CultureInfo.InvariantCulture, $"{0.5 * (ratios[(ratios.Length - 1) / 2] + ratios[ratios.Length / 2]):F2} ({ratios[0]:F2} to {ratios[^1]:F2})");
    }

    private static WholeProcess Measure(string program, string log) => WholeProcess.Run(program, "measure", log, "--format", "json");

    // The kernel's own limit: the program's pool and its garbage collector see one core as well.
    private static WholeProcess OnOneCore(string program, string log) => WholeProcess.Run("taskset", "-c", "0", program, "measure", log, "--format", "json");

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

    private static string LoadAverage() => File.Exists("/proc/loadavg") ? string.Join(' ', File.ReadAllText("/proc/loadavg").Split(' ').Take(3)) : "not known";

    private static string Publish(string folder)
    {
        string target = Path.Combine(folder, "program");
        WholeProcess.Run("dotnet", "publish", Path.Combine(Root(), "src", "ChargeAudit.Cli"), "-c", "Release", "-r", RuntimeInformation.RuntimeIdentifier, "-o", target);
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
