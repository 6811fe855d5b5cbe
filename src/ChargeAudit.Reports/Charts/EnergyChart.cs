using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Charts;

/// <summary>Energy per charge of each method at each point, with every run as a point.</summary>
internal static class EnergyChart
{
    /// <summary>The chart; null where no energy is known.</summary>
    public static Chart? Draw(AuditResult result)
    {
        var rows = new List<BarRow>();
        foreach (var point in RunsAtPoint.Measured(result))
        {
            for (int i = 0; i < result.Methods.Count; i++)
            {
                if (result.Methods[i].Points.TryGetValue(point, out var at) && at.EnergyPerCharge.Value is { } energy
                    && double.IsFinite(energy.Value))
                {
                    var color = Palette.Of(i);
                    rows.Add(new BarRow(
                        result.Methods[i].Name,
                        $", {Words.Place(point)}{DerivedText.Mark(at.EnergyPerCharge)}",
                        FigureText.Value(energy),
                        [new BarPart(0, energy.Value, color.WithAlpha(0.8), color)])
                    {
                        Interval = energy.Interval() is { } interval ? (interval.Low, interval.High) : null,
                        Dots = at.RunEnergiesWh,
                    });
                }
            }
        }

        if (rows.Count == 0)
        {
            return null;
        }

        return PlotFrame.Render(
            "energy-per-charge",
            "Energy per charge of each method",
            "Energy per charge. " + string.Join(" ", rows.Select(r => $"{r.Label}: {r.Text}.")),
            HorizontalBars.Fit(ChartSize.Wide, rows.Count),
            HorizontalBars.Fit(ChartSize.Narrow with { LabelCharacters = 18 }, rows.Count),
            size => HorizontalBars.Plot(size, rows, "energy per charge [Wh]"),
            "Bar: mean over the runs. Line across its end: 95 % interval. White points: single runs.");
    }
}
