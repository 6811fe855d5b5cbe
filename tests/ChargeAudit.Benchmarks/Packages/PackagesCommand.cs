using System.Globalization;
using System.Runtime.InteropServices;
using ChargeAudit.Benchmarks.Reading;
using ChargeAudit.Metrology;

namespace ChargeAudit.Benchmarks.Packages;

/// <summary>
/// <c>packages FOLDER [rounds]</c>: installs the package for any platform and this platform's native one from a folder that
/// <c>.ci/tool-packages</c> filled, lets both take turns, and prints the processor time of whole processes and its ratio. Rounds are
/// paired, so that what else the machine does in a round weighs on both.
/// </summary>
public static class PackagesCommand
{
    private const int UsualRounds = 11;
    private const int LongRows = 1_000_000;

    private sealed record Work(string Name, int Times, string[] Arguments)
    {
        public List<double> AnyS { get; } = [];

        public List<double> NativeS { get; } = [];
    }

    /// <summary>Runs the comparison and prints its table as Markdown.</summary>
    public static int Run(string[] arguments, TextWriter output)
    {
        int rounds = UsualRounds;
        if (arguments.Length is < 1 or > 2 || !Directory.Exists(arguments[0])
            || (arguments.Length > 1 && !int.TryParse(arguments[1], NumberStyles.None, CultureInfo.InvariantCulture, out rounds))
            || rounds < 1)
        {
            output.WriteLine("packages takes the folder that bash .ci/tool-packages FOLDER made, and the number of rounds, at least 1.");
            return 64;
        }

        if (!OperatingSystem.IsLinux())
        {
            output.WriteLine("packages asks the kernel of Linux for the processor time of ended processes: run it there.");
            return 69;
        }

        string packages = Path.GetFullPath(arguments[0]);
        string folder = Directory.CreateTempSubdirectory("chargeaudit-packages-").FullName;
        try
        {
            string any = InstalledTool.From(packages, "chargeaudit.any", folder);
            string native = InstalledTool.From(packages, $"chargeaudit.{RuntimeInformation.RuntimeIdentifier}", folder);
            Compare(any, native, folder, rounds, output);
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Compare(string any, string native, string folder, int rounds, TextWriter output)
    {
        string usual = Path.Combine(folder, "usual.csv");
        string large = Path.Combine(folder, "large.csv");
        FourHours.Write(usual);
        ChargeFile.Write(large, LongRows, TimeWriting.ElapsedSeconds);
        // A short start is repeated within a round: the kernel counts in steps.
        Work[] all =
        [
            new("`--version`", 20, ["--version"]),
            new("`measure` of 4 hours at 1 s", 3, ["measure", usual, "--format", "json"]),
            new("`measure` of a million rows", 1, ["measure", large, "--format", "json"]),
        ];
        foreach (Work work in all)
        {
            // Once before, for the system's file cache.
            ProcessorTime.OfRunS(1, any, work.Arguments);
            ProcessorTime.OfRunS(1, native, work.Arguments);
        }

        for (int round = 0; round < rounds; round++)
        {
            foreach (Work work in all)
            {
                work.AnyS.Add(ProcessorTime.OfRunS(work.Times, any, work.Arguments));
                work.NativeS.Add(ProcessorTime.OfRunS(work.Times, native, work.Arguments));
            }
        }

        output.WriteLine(InvariantText.Of(
            $"Processor time of a whole process, s: medians of {rounds} rounds taken in turn, their range in brackets; "
            + $"{Environment.ProcessorCount} cores, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.RuntimeIdentifier}; "
            + $"load {ReadingCommand.LoadAverage()}"));
        output.WriteLine();
        output.WriteLine("| work | package for any platform | native package | native by any |");
        output.WriteLine("|---|---|---|---|");
        foreach (Work work in all)
        {
            double[] ratios = [.. work.NativeS.Zip(work.AnyS, (n, a) => n / a)];
            output.WriteLine($"| {work.Name} | {Spread(work.AnyS, "F4")} | {Spread(work.NativeS, "F4")} | {Spread(ratios, "F3")} |");
        }
    }

    private static string Spread(IReadOnlyCollection<double> values, string format)
    {
        string Written(double value) => value.ToString(format, CultureInfo.InvariantCulture);
        return $"{Written(ReadingCommand.Median(values))} ({Written(values.Min())} to {Written(values.Max())})";
    }
}
