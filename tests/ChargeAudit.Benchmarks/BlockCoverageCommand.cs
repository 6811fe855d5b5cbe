using System.Globalization;
using ChargeAudit.Tests.Metrology.Coverage;

namespace ChargeAudit.Benchmarks;

/// <summary><c>coverage-blocks [studies]</c>: how often intervals of runs on days hold the truth, as a table for
/// docs/uncertainty.md.</summary>
internal static class BlockCoverageCommand
{
    private const int LeastStudies = 100;
    private const int FirstSeed = 31_000;

    public static int Run(string[] arguments, TextWriter output)
    {
        int studies = 4000;
        if (arguments.Length > 1
            || (arguments.Length == 1 && !int.TryParse(arguments[0], NumberStyles.None, CultureInfo.InvariantCulture, out studies))
            || studies < LeastStudies)
        {
            output.WriteLine($"coverage-blocks takes the number of simulated studies a case, at least {LeastStudies}.");
            return 64;
        }

        output.WriteLine("| days | runs each | days by runs | energy holds | width by ideal | ratio holds | width by ideal | energy, days "
            + "left out |");
        output.WriteLine("|---|---|---|---|---|---|---|---|");
        var cases = (from days in new[] { 1, 2, 3 }
                     from runs in new[] { 1, 2, 3, 4, 5 }
                     from between in new[] { 0.0, 1, 3 }
                     where days > 1 || (between == 1 && runs > 1)
                     select new BlockCase(days, runs, between)).ToList();
        foreach (var (what, i) in cases.Select((c, i) => (c, i)))
        {
            var r = BlockCoverage.Run(what, studies, FirstSeed + i);
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"| {what.Days} | {what.Runs} | {what.BetweenByWithin} | {100 * r.EnergyHeld:F1} % | {r.EnergyByIdeal:F2} | ")
                + string.Create(CultureInfo.InvariantCulture,
                $"{100 * r.RatioHeld:F1} % | {r.RatioByIdeal:F2} | {100 * r.HeldWithoutDays:F1} % |"));
        }

        return 0;
    }
}
