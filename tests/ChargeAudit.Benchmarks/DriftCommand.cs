using System.Globalization;
using ChargeAudit.Checking.Drift;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Checking;

namespace ChargeAudit.Benchmarks;

/// <summary><c>drift [histories]</c>: how soon the drift chart finds a step, as the table that the program carries.</summary>
internal static class DriftCommand
{
    private const ulong Seed = 20_261_126;
    private const int Least = 100;

    private static readonly int[] QuietChecks = [0, 1, 5, 10, 20, 50];

    public static int Run(string[] arguments, TextWriter output)
    {
        int histories = 2000;
        if (arguments.Length > 1
            || (arguments.Length == 1 && !int.TryParse(arguments[0], NumberStyles.None, CultureInfo.InvariantCulture, out histories))
            || histories < Least)
        {
            output.WriteLine($"drift takes the number of simulated histories a row, at least {Least}.");
            return 64;
        }

        output.WriteLine("figures\tquiet checks\tstep\tmoves\twithin 5\twithin 10\twithin 20\tfirst quarter\tmedian\tthird quarter");
        foreach (int figures in DriftPower.FiguresSimulated)
        {
            var simulation = new DriftSimulation(figures, QuietChecks[^1] + DriftPower.LongestWait);
            foreach (bool all in figures == 1 ? new[] { false } : [false, true])
            {
                foreach (double step in new[] { 1.0, 2.0 })
                {
                    foreach (int quiet in QuietChecks)
                    {
                        var found = simulation.Detection(quiet, step, all, histories, Seed);
                        string Wait(int? checks) => checks?.ToString(CultureInfo.InvariantCulture) ?? "-";
                        output.WriteLine(
                            InvariantText.Of(
                                $"{figures}\t{quiet}\t{step}\t{(all ? "all" : "one")}\t{found.Within5:0.000}\t{found.Within10:0.000}\t"
                                    + $"{found.Within20:0.000}\t{Wait(found.FirstQuarter)}\t{Wait(found.Median)}\t"
                                        + $"{Wait(found.ThirdQuarter)}"));
                    }
                }
            }
        }

        foreach (int figures in DriftPower.FiguresSimulated)
        {
            output.WriteLine(
                InvariantText.Of(
                    $"# {figures} figures, no change: {new DriftSimulation(figures, 100).FalseAlarms(100, histories, Seed):0.000} raise a "
                + $"false alarm within 100 checks; {1 - Math.Pow(1 - (1 / DriftPower.ChecksBetweenFalseAlarms), 100):0.000} were "
                + $"promised"));
        }

        return 0;
    }
}
