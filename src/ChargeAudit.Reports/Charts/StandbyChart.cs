using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Charts;

/// <summary>Power while the device is full, and while the charger waits.</summary>
internal static class StandbyChart
{
    /// <summary>The chart; null where neither power is known anywhere.</summary>
    public static Chart? Draw(AuditResult result)
    {
        var rows = new List<BarRow>();
        foreach (var point in Enum.GetValues<Logs.MeasuringPoint>())
        {
            for (int i = 0; i < result.Methods.Count; i++)
            {
                if (result.Methods[i].Points.TryGetValue(point, out var at))
                {
                    string name = result.Methods[i].Name;
                    Add(rows, name, $", {Words.Place(point)}, full", at.MaintenancePower, i, Mode.Maintenance);
                    Add(rows, name, $", {Words.Place(point)}, waiting", at.NoLoadPower, i, Mode.NoLoad);
                }
            }
        }

        if (rows.Count == 0)
        {
            return null;
        }

        return PlotFrame.Render(
            "stand-by",
            "Stand-by power",
            "Stand-by power. " + string.Join(" ", rows.Select(r => $"{r.Label}: {r.Text}.")),
            HorizontalBars.Fit(ChartSize.Wide, rows.Count),
            HorizontalBars.Fit(ChartSize.Narrow with { LabelCharacters = 18 }, rows.Count),
            size => HorizontalBars.Plot(size, rows, "power [W]"),
            "Full: the device is charged and still on the charger. Waiting: the charger is powered and no device is on it. Line across "
                + "an end: 95 % interval."
                + DerivedText.StarNote(result.Methods.SelectMany(m => m.Points.Values)
                    .SelectMany(p => new[] { p.MaintenancePower, p.NoLoadPower })));
    }

    private static void Add(List<BarRow> rows, string name, string suffix, Figure power, int method, Mode mode)
    {
        if (power.Value is { } value && double.IsFinite(value.Value))
        {
            var color = Palette.Of(method);
            rows.Add(new BarRow(name, suffix + DerivedText.Star(power), FigureText.Value(value),
                [new BarPart(0, value.Value, color.WithAlpha(Palette.Strength(mode)), color)])
            {
                Interval = value.Interval() is { } interval ? (interval.Low, interval.High) : null,
            });
        }
    }
}
