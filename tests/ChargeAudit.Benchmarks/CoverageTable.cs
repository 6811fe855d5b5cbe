using System.Globalization;
using System.Text;
using ChargeAudit.Tests.Metrology.Coverage;

namespace ChargeAudit.Benchmarks;

/// <summary>The table of docs/uncertainty.md: how often the 95 % interval of an overhead ratio holds the truth.</summary>
internal static class CoverageTable
{
    private const int FirstSeed = 20_261;

    /// <summary>Simulates every case and gives the table as Markdown.</summary>
    /// <param name="studies">Studies a case. [1]</param>
    internal static string Make(int studies)
    {
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"| scatter of the runs | runs | meters | holds the truth | mean width | width by ideal | width by known scatter |");
        text.AppendLine("|---|---|---|---|---|---|---|");
        int seed = FirstSeed;
        double byIdeal = 0;
        int held = 0, all = 0, cases = 0;
        foreach (var scatter in Enum.GetValues<ScatterModel>())
        {
            foreach (int runs in (int[])[1, 2, 3, 5])
            {
                foreach (bool same in (bool[])[true, false])
                {
                    if (runs == 1 && scatter != ScatterModel.Normal)
                    {
                        continue;
                    }

                    var r = CoverageStudy.Run(new CoverageCase(runs, same, scatter), studies, seed++);
                    text.AppendLine(CultureInfo.InvariantCulture,
                        $"| {Words(r)} | {runs} | {(same ? "same" : "two")} | {100 * r.Held:F1} % | {r.MeanWidth:F4} | {r.MeanWidth / r.IdealWidth:F2} | {r.MeanWidth / r.OracleWidth:F2} |");
                    byIdeal += r.MeanWidth / r.IdealWidth;
                    held += (int)Math.Round(r.Held * r.Studies);
                    all += r.Studies;
                    cases++;
                }
            }
        }

        text.AppendLine(CultureInfo.InvariantCulture, $"\nAll {all} studies together: {100.0 * held / all:F1} % hold the truth; width by ideal {byIdeal / cases:F2} on average.");
        return text.ToString();
    }

    private static string Words(CoverageResult result) => result.Case switch
    {
        { Runs: 1 } => "none (truth: that run's own)",
        { Scatter: ScatterModel.Skewed } => "skewed",
        { Scatter: ScatterModel.LongTailed } => "long tails",
        _ => "normal",
    };
}
