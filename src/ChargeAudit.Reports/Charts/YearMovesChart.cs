using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
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
        var words = new List<string>();
        var legend = new List<(string Name, ScottPlot.Color Color)>();
        string unit = "kWh";
        for (int i = 0; i < result.Methods.Count; i++)
        {
            var method = result.Methods[i];
            var color = Palette.Of(i);
            var bars = (method.Yearly.Detail?.Tornado ?? []).Where(b => b.Swing > 0 && double.IsFinite(b.Swing)).Take(MostRows).ToList();
            foreach (var bar in bars)
            {
                unit = bar.ResultUnit;
                double? asItStands = (unit == "kWh" ? method.Yearly.Energy : method.Yearly.Cost).Value?.Value;
                string text =
                    $"{FigureText.Plain(Math.Min(bar.ResultLow, bar.ResultHigh), "", 3)} to "
                    + $"{FigureText.Plain(Math.Max(bar.ResultLow, bar.ResultHigh), unit, 3)}";
                words.Add($"{method.Name}, {bar.What}: {text}.");
                rows.Add(new BarRow(Short(bar), "", text, [new BarPart(bar.ResultLow, bar.ResultHigh, color.WithAlpha(0.8), color)])
                {
                    Interval = asItStands is { } at && double.IsFinite(at) ? (at, at) : null,
                });
            }

            if (bars.Count > 0)
            {
                legend.Add((method.Name, color.WithAlpha(0.8)));
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
            "How far a year moves when one input is varied alone. " + string.Join(" ", words),
            HorizontalBars.Fit(ChartSize.Wide with { LabelCharacters = 24 }, rows.Count, 28),
            HorizontalBars.Fit(ChartSize.Narrow with { LabelCharacters = 20 }, rows.Count, 44),
            size =>
            {
                var plot = HorizontalBars.Plot(size, rows, axis);
                PlotFrame.Legend(plot, size, legend);
                return plot;
            },
            "Each bar runs between the results at two values of one input, all others held; the stroke is the year as it stands. The table "
                + "below gives the values and where they come from.");
    }

    /// <summary>The input in words short enough for a narrow screen; the table has them in full.</summary>
    private static string Short(TornadoBar bar) => bar.What switch
    {
        "share of a full charge" => "part of a charge",
        "hours on the charger each time" => "hours on charger",
        "power when full" => "power when full",
        "charger in the socket between charges (0 no, 1 yes)" => "left in the socket",
        _ => bar.What,
    };
}
