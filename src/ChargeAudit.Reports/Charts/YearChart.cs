using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Charts;

/// <summary>What a year of each method uses at the wall, by mode: in money where there is a price, else in energy.</summary>
internal static class YearChart
{
    /// <summary>The chart; null where no year is known.</summary>
    public static Chart? Draw(AuditResult result)
    {
        bool money = result.Methods.Any(m => m.Yearly.Cost.Value is not null);
        var rows = new List<BarRow>();
        for (int i = 0; i < result.Methods.Count; i++)
        {
            var year = result.Methods[i].Yearly;
            if ((money ? year.Cost : year.Energy).Value is { } total && double.IsFinite(total.Value))
            {
                rows.Add(new BarRow(result.Methods[i].Name, DerivedText.Star(money ? year.Cost : year.Energy), FigureText.Value(total),
                    Parts(year, total.Value, i, money))
                {
                    Interval = total.Interval() is { } interval ? (interval.Low, interval.High) : null,
                });
            }
        }

        if (rows.Count == 0)
        {
            return null;
        }

        string axis = money ? $"cost a year [{result.Study.Tariff?.Currency ?? "money"}]" : "energy a year [kWh]";
        var legend = result.Methods.SelectMany(m => m.Yearly.ByMode).Where(m => m.Energy.Value is not { Value: 0 }).Select(m => m.Mode)
            .Distinct().OrderBy(Rank).ToList();
        return PlotFrame.Render(
            "year",
            money ? "Cost a year" : "Energy a year",
            (money ? "Cost of a year at the wall. " : "Energy of a year at the wall. ")
                + string.Join(" ", rows.Select(r => $"{r.Label}: {r.Text}.")),
            HorizontalBars.Fit(ChartSize.Wide, rows.Count, 28),
            HorizontalBars.Fit(ChartSize.Narrow, rows.Count, 44),
            size =>
            {
                var plot = HorizontalBars.Plot(size, rows, axis);
                PlotFrame.Legend(plot, size, legend.Select(m => (Text.Words.Mode(m), Palette.Ink.WithAlpha(Palette.Strength(m)))));
                return plot;
            },
            "Pieces of a bar, from left to right: " + string.Join(", ", legend.Select(Text.Words.Mode))
                + ". Line across its end: 95 % interval of the whole."
                + DerivedText.StarNote(result.Methods.Select(m => money ? m.Yearly.Cost : m.Yearly.Energy)));
    }

    private static int Rank(Mode mode) => mode switch { Mode.Charge => 0, Mode.Maintenance => 1, Mode.NoLoad => 2, _ => 3 };

    private static List<BarPart> Parts(YearResult year, double total, int method, bool money)
    {
        var parts = new List<BarPart>();
        double at = 0;
        foreach (var mode in year.ByMode.OrderBy(m => Rank(m.Mode)))
        {
            if ((money ? mode.Cost : mode.Energy).Value is { Value: > 0 and < double.PositiveInfinity } share)
            {
                parts.Add(new BarPart(at, at + share.Value, Palette.Of(method).WithAlpha(Palette.Strength(mode.Mode)), Palette.Of(method)));
                at += share.Value;
            }
        }

        return parts.Count > 0 ? parts : [new BarPart(0, total, Palette.Of(method).WithAlpha(0.8), Palette.Of(method))];
    }
}
