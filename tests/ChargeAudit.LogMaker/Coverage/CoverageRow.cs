using System.Globalization;
using System.Text;
using ChargeAudit.LogMaker.Studies;

namespace ChargeAudit.LogMaker.Coverage;

/// <summary>How often the intervals of one row of the table hold the truth.</summary>
/// <param name="Figure">The figure.</param>
/// <param name="Class">The class of sample interval, or the kind of meter.</param>
/// <param name="Trials">All trials of the row.</param>
public sealed record CoverageRow(FigureKind Figure, string Class, IReadOnlyList<Trial> Trials)
{
    /// <summary>What a row has to hold: its 99 % interval may not lie outside. [1]</summary>
    public const double Least = 0.93;

    /// <summary>[1]</summary>
    public const double Most = 0.97;

    private const double Confidence = 0.99;

    public int Holding => Trials.Count(t => t.Outcome == Outcome.Holds);

    public int Missing => Trials.Count(t => t.Outcome == Outcome.Misses);

    public int Without => Trials.Count(t => t.Outcome == Outcome.NotGiven);

    public int Stopped => Trials.Count(t => t.Outcome == Outcome.Stopped);

    public int Intervals => Holding + Missing;

    public double Share => (double)Holding / Intervals;

    /// <summary>Whether so few hold that chance does not explain it.</summary>
    public bool TooFew => Intervals > 0 && Binomial.Interval(Holding, Intervals, Confidence).High < Least;

    /// <summary>Whether so many hold that chance does not explain it: the intervals are longer than they need be.</summary>
    public bool TooMany => Intervals > 0 && Binomial.Interval(Holding, Intervals, Confidence).Low > Most;

    /// <summary>Geometric mean of the widths by the ideal; NaN where no ideal is above zero.</summary>
    public double WidthByIdeal
    {
        get
        {
            List<double> logs = [.. Trials.Where(t => t.HalfWidth > 0 && double.IsFinite(t.HalfWidth) && t.Truth.IdealHalfWidth > 0)
                .Select(t => Math.Log(t.HalfWidth / t.Truth.IdealHalfWidth))];
            return logs.Count == 0 ? double.NaN : Math.Exp(logs.Average());
        }
    }

    /// <summary>Rows by class of sample interval and by kind of meter.</summary>
    public static IReadOnlyList<CoverageRow> Of(IReadOnlyCollection<Trial> trials)
    {
        List<CoverageRow> rows = [];
        foreach (FigureKind figure in Enum.GetValues<FigureKind>())
        {
            List<Trial> own = [.. trials.Where(t => t.Truth.Figure == figure)];
            rows.AddRange(
                IntervalClass.All.Select(c =>
                new CoverageRow(figure, c.Name, [.. own.Where(t => IntervalClass.Of(t.Truth.Meter.IntervalS) == c)])));
            rows.AddRange(own.GroupBy(t => MeterKind.Of(t.Truth.Meter)).OrderBy(g => g.Key, StringComparer.Ordinal)
                .Select(g => new CoverageRow(figure, g.Key, [.. g])));
        }

        return rows;
    }

    /// <summary>The rows as a table in Markdown.</summary>
    public static string ToMarkdown(IEnumerable<CoverageRow> rows)
    {
        StringBuilder text =
            new("| figure | logs | intervals | hold the truth | width by ideal | not given | stopped | verdict |\n"
            + "|---|---|---|---|---|---|---|---|\n");
        foreach (CoverageRow row in rows.Where(r => r.Trials.Count > 0))
        {
            string verdict = row.TooFew ? "**too few**" : row.TooMany ? "holds more" : "holds";
            text.Append(CultureInfo.InvariantCulture,
                $"| {Word(row.Figure)} | {row.Class} | {row.Intervals} | {100 * row.Share:F1} % | {row.WidthByIdeal:F2} | {row.Without} | "
                + $"{row.Stopped} | {verdict} |\n");
        }

        return text.ToString();
    }

    private static string Word(FigureKind figure) => figure switch
    {
        FigureKind.Energy => "energy per charge",
        FigureKind.Ratio => "overhead ratio",
        FigureKind.NoLoad => "power when waiting",
        FigureKind.Maintenance => "power when full",
        FigureKind.YearEnergy => "kWh a year",
        _ => "cost a year",
    };
}
