using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>Logs of a counter for tests: readings one a row, cut down to the counter's step.</summary>
internal static class CounterSeries
{
    public static SummaryRules CounterOnly(double intervalS = 1) => SampleSeries.Rules(medianIntervalS: intervalS) with
    {
        Source = PowerSource.EnergyCounter,
    };

    /// <summary>Rows that hold a counter alone.</summary>
    public static IEnumerable<Sample> Rows(IEnumerable<double> readingsJ, double intervalS = 1) =>
        readingsJ.Select((c, i) => Sample.Empty(i * intervalS, i + 2) with { EnergyCounterJ = c });

    /// <summary>A counter that shows the whole steps of what has flowed.</summary>
    public static double Cut(double energyJ, double stepJ) => Math.Floor((energyJ / stepJ) + 1e-9) * stepJ;

    public static LogSummary Finished(IEnumerable<Sample> rows, SummaryRules rules) => SampleSeries.Summarise(rows, rules);

    /// <summary>Joins the summaries of pieces that end before the given rows.</summary>
    public static LogSummary InPieces(IReadOnlyList<Sample> rows, SummaryRules rules, params int[] cuts)
    {
        var whole = new LogSummary.Builder(rules);
        int from = 0;
        foreach (int to in cuts.Append(rows.Count))
        {
            var piece = whole.ForLaterPiece();
            for (int i = from; i < to; i++)
            {
                piece.Add(rows[i]);
            }

            whole.Join(piece);
            from = to;
        }

        return whole.Finish();
    }
}
