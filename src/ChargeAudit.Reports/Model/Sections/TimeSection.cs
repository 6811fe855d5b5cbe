using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Power and energy over time.</summary>
internal static class TimeSection
{
    private const int Rows = 24;

    /// <summary>The section.</summary>
    public static Section Of(AuditResult result, IReadOnlySet<string> keys)
    {
        var blocks = new List<Block>();
        foreach (var point in RunsAtPoint.Measured(result))
        {
            blocks.Add(new Subheading(PlainWords.Capital(Words.At(point))));
            blocks.AddRange(Cells.Picture(keys, "power-" + StableName.Of(point)));
            blocks.AddRange(Cells.Picture(keys, "cumulative-" + StableName.Of(point)));
            blocks.Add(Table(result, point));
        }

        if (blocks.Count == 0)
        {
            blocks.Add(new Paragraph("No run that counts was measured at any point, so there is nothing to draw."));
        }

        return new Section("over-time", "Power over time", blocks);
    }

    private static DataTable Table(AuditResult result, MeasuringPoint point)
    {
        var methods = RunsAtPoint.Of(result, point);
        double toS = PowerChart.Window(methods).ToS;
        var columns = new List<Column> { new("Time from the start of the charge") };
        foreach (var method in methods)
        {
            columns.Add(new Column($"{method.Middle.Id}: mean power [W]", ColumnKind.Number));
            columns.Add(new Column($"{method.Middle.Id}: energy at its end [Wh]", ColumnKind.Number));
        }

        var rows = new List<IReadOnlyList<string>>();
        for (int i = 1; i <= Rows; i++)
        {
            double from = toS * (i - 1) / Rows;
            double to = toS * i / Rows;
            rows.Add([$"{FigureText.Duration(from)} to {FigureText.Duration(to)}",
                .. methods.SelectMany(m => Figures(m.Middle.Seen, from, to))]);
        }

        return new DataTable($"The curves {Words.At(point)} as a table", columns, rows) { Folded = true };
    }

    private static string[] Figures(RunPointResult seen, double fromS, double toS)
    {
        double start = seen.Charge.StartS;
        double covered = seen.Log.Envelope.CoveredBetweenS(start + fromS, start + toS);
        return covered > 0
            ? [
                FigureText.Plain(seen.Log.Envelope.EnergyBetweenJ(start + fromS, start + toS) / covered, "", 3),
                FigureText.Plain(seen.Log.Envelope.EnergyBetweenJ(start, start + toS) / 3600, ""),
            ]
            : ["not measured", "not measured"];
    }
}
