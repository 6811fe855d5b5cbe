using ChargeAudit.Analysis.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Charts;

/// <summary>What moves a year: how far its cost or energy goes when one input is varied alone, strongest first.</summary>
internal static class YearMovesChart
{
    private const int MostRows = 5;

    /// <summary>The chart; null where nothing was varied.</summary>
    public static Chart? Draw(AuditResult result)
    {
        var rows = new List<BarRow>();
        string unit = "kWh";
        for (int i = 0; i < result.Methods.Count; i++)
        {
            string name = result.Methods[i].Name;
            foreach (var bar in (result.Methods[i].Yearly.Detail?.Tornado ?? []).Where(b => b.Swing > 0 && double.IsFinite(b.Swing)).Take(MostRows))
            {
                unit = bar.ResultUnit;
                rows.Add(new BarRow(
                    $"{name}: {bar.What}",
                    "",
                    $"{FigureText.Plain(Math.Min(bar.ResultLow, bar.ResultHigh), "", 3)} to {FigureText.Plain(Math.Max(bar.ResultLow, bar.ResultHigh), bar.ResultUnit, 3)}",
                    [new BarPart(bar.ResultLow, bar.ResultHigh, Palette.Of(i).WithAlpha(0.8), Palette.Of(i))]));
            }
        }

        if (rows.Count == 0)
        {
            return null;
        }

        string axis = unit == "kWh" ? "energy a year [kWh]" : $"cost a year [{unit}]";
        return PlotFrame.Render(
            "year-moves",
            "What moves a year",
            "How far a year moves when one input is varied alone. " + string.Join(" ", rows.Select(r => $"{r.Label}: {r.Text}.")),
            HorizontalBars.Fit(ChartSize.Wide with { LabelCharacters = 44 }, rows.Count),
            HorizontalBars.Fit(ChartSize.Narrow with { LabelCharacters = 20 }, rows.Count),
            size => HorizontalBars.Plot(size, rows, axis),
            "Each bar runs between the results at two values of one input, all others held. The table below gives the values and where they come from.");
    }
}
