using System.Globalization;
using System.Text;
using ChargeAudit.Tests.Metrology.Coverage;

namespace ChargeAudit.Benchmarks;

/// <summary>The table of docs/uncertainty.md: how often the 95 % interval of an overhead ratio holds the truth.</summary>
internal static class CoverageTable
{
    private const int FirstSeed = 20_261;

    // A scatter ten times the other's: the hardest case for few runs, shown so that nobody has to guess.
    private const double VeryUnequal = 10;

    private static readonly CoverageCase[] Cases =
    [
        .. from scatter in Enum.GetValues<ScatterModel>()
           from runs in new[] { 1, 2, 3, 5 }
           from same in new[] { true, false }
           where runs > 1 || scatter == ScatterModel.Normal
           select new CoverageCase(runs, same, scatter),
        .. from runs in new[] { 2, 3, 5 } select new CoverageCase(runs, true, ScatterModel.Normal, VeryUnequal),
    ];

    /// <summary>Simulates every case and gives the table as Markdown.</summary>
    /// <param name="studies">Studies a case. [1]</param>
    internal static string Make(int studies)
    {
        var text = new StringBuilder();
        text.AppendLine("| scatter of the runs | runs | meters | holds the truth | mean width | width by ideal | width by known scatter |");
        text.AppendLine("|---|---|---|---|---|---|---|");
        CoverageResult[] results = [.. Cases.Select((what, i) => CoverageStudy.Run(what, studies, FirstSeed + i))];
        foreach (var r in results)
        {
            string meters = r.Case.SameMeter ? "same" : "two";
            text.AppendLine(CultureInfo.InvariantCulture,
                $"| {Words(r.Case)} | {r.Case.Runs} | {meters} | {100 * r.Held:F1} % | {r.MeanWidth:F4} | {ByIdeal(r):F2} | "
                + $"{ByOracle(r):F2} |");
        }

        text.AppendLine();
        text.AppendLine(CultureInfo.InvariantCulture,
            $"{results.Sum(r => r.Studies)} studies: {100 * results.Average(r => r.Held):F1} % hold the truth; width by ideal "
            + $"{results.Average(ByIdeal):F2}, by known scatter {results.Average(ByOracle):F2} on average.");
        return text.ToString();
    }

    private static double ByIdeal(CoverageResult r) => r.MeanWidth / r.IdealWidth;

    private static double ByOracle(CoverageResult r) => r.MeanWidth / r.OracleWidth;

    private static string Words(CoverageCase what) => what switch
    {
        { Runs: 1 } => "none (truth: that run's own)",
        { ScatterRatio: not null } => "normal, ten to one",
        { Scatter: ScatterModel.Skewed } => "skewed",
        { Scatter: ScatterModel.LongTailed } => "long tails",
        _ => "normal",
    };
}
