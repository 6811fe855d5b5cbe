using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Charts;

/// <summary>Where the energy of a charge goes, as a waterfall: what goes in, what each place keeps, what is left.</summary>
internal static class LossChart
{
    /// <summary>The chart; null where no method has two figures of a charge.</summary>
    public static Chart? Draw(AuditResult result)
    {
        var rows = new List<BarRow>();
        for (int i = 0; i < result.Methods.Count; i++)
        {
            if (result.Losses.FirstOrDefault(l => l.Method == result.Methods[i].Name) is { } loss)
            {
                rows.AddRange(Rows(loss, i));
            }
        }

        if (rows.Count == 0)
        {
            return null;
        }

        return PlotFrame.Render(
            "losses",
            "Where the energy of a charge goes",
            "Energy and losses per charge. " + string.Join(" ", rows.Select(r => $"{r.Label}: {r.Text}.")),
            HorizontalBars.Fit(ChartSize.Wide with { LabelCharacters = 40 }, rows.Count),
            HorizontalBars.Fit(ChartSize.Narrow with { LabelCharacters = 18 }, rows.Count),
            size => HorizontalBars.Plot(size, rows, "energy per charge [Wh]"),
            "Full bars: energy that goes in, and what is left at the end. Yellow: what is lost on the way; places that no meter tells "
                + "apart stand together. Line across an end: 95 % interval.");
    }

    private static IEnumerable<BarRow> Rows(LossResult loss, int index)
    {
        if (loss.EnergyIn.Value is not { } into || !double.IsFinite(into.Value))
        {
            yield break;
        }

        yield return Full($"{loss.Method}", $", {Words.Place(loss.From)}", into, index);
        double left = into.Value;
        foreach (var part in loss.Parts)
        {
            if (part.EnergyWh.Value is not { } lost || !double.IsFinite(lost.Value))
            {
                continue;
            }

            yield return new BarRow(
                $"lost: {string.Join(", ", part.Places.Select(Short))}", "", FigureText.Value(lost),
                    [new BarPart(left - lost.Value, left, Palette.Loss.WithAlpha(0.85), Palette.Ink)]);
            left -= lost.Value;
        }

        if (loss.Arrives.Value is { } arrives)
        {
            yield return Full($"{loss.Method}", $", {(loss.LastPoint is { } last ? Words.Place(last) : "stored")}", arrives, index);
        }
    }

    private static string Short(LossPlace place) => place switch
    {
        LossPlace.Adapter => "adapter",
        LossPlace.Cable => "cable",
        LossPlace.PadAndReceiver => "pad",
        LossPlace.DeviceElectronics => "device",
        _ => "battery",
    };

    private static BarRow Full(string method, string where, Measured energy, int index) => new(
        method,
        where,
        FigureText.Value(energy),
        [new BarPart(0, energy.Value, Palette.Of(index).WithAlpha(0.8), Palette.Of(index))])
    {
        Interval = energy.Interval() is { } interval ? (interval.Low, interval.High) : null,
    };
}
