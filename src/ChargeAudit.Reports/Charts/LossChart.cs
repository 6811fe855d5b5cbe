using ChargeAudit.Analysis.Results;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Charts;

/// <summary>Where the energy of a charge goes: what goes in, what each stage keeps, what is left.</summary>
internal static class LossChart
{
    /// <summary>The chart; null where no method was measured at two points.</summary>
    public static Chart? Draw(AuditResult result)
    {
        var rows = new List<BarRow>();
        for (int i = 0; i < result.Methods.Count; i++)
        {
            rows.AddRange(Rows(result, i));
        }

        if (rows.Count == 0)
        {
            return null;
        }

        return PlotFrame.Render(
            "losses",
            "Losses of each stage over a charge",
            "Energy and losses per charge. " + string.Join(" ", rows.Select(r => $"{r.Label}: {r.Text}.")),
            HorizontalBars.Fit(ChartSize.Wide, rows.Count),
            HorizontalBars.Fit(ChartSize.Narrow, rows.Count),
            size => HorizontalBars.Plot(size, rows, "energy per charge [Wh]"),
            "Full bars: energy that arrives at a point. Yellow: what is lost on the way to the next point. Line across an end: 95 % interval.");
    }

    private static List<BarRow> Rows(AuditResult result, int index)
    {
        var method = result.Methods[index];
        var rows = new List<BarRow>();
        foreach (var stage in result.Stages.Where(s => s.Method == method.Name).OrderBy(s => s.From))
        {
            if (Energy(method, stage.From) is not { } into || Energy(method, stage.To) is not { } outOf || stage.Loss.Value is not { } loss)
            {
                continue;
            }

            if (rows.Count == 0)
            {
                rows.Add(Full(method.Name, stage.From, into, index));
            }

            rows.Add(new BarRow(
                $"lost: {Words.Stage(stage.From, stage.To, method.Kind)}",
                "",
                FigureText.Value(loss),
                [new BarPart(outOf.Value, into.Value, Palette.Loss.WithAlpha(0.85), Palette.Ink)]));
            rows.Add(Full(method.Name, stage.To, outOf, index));
        }

        return rows;
    }

    private static BarRow Full(string method, MeasuringPoint point, Measured energy, int index) => new(
        method,
        $", {StablePlace.Short(point)}",
        FigureText.Value(energy),
        [new BarPart(0, energy.Value, Palette.Of(index).WithAlpha(0.8), Palette.Of(index))])
    {
        Interval = energy.Interval() is { } interval ? (interval.Low, interval.High) : null,
    };

    private static Measured? Energy(MethodResult method, MeasuringPoint point) =>
        method.Points.TryGetValue(point, out var at) && at.EnergyPerCharge.Value is { } energy && double.IsFinite(energy.Value) ? energy : null;
}
