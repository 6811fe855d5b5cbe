using ChargeAudit.Comparing.Tables;
using ChargeAudit.Metrology;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Pooling.Results;

/// <summary>A pool as one flat table for notebooks and spreadsheets: one row for each figure, charger and device, then one row for each
/// figure and charger for all devices.</summary>
/// <remarks>
/// Columns: <c>figure</c>, <c>charger</c> (empty: all together), <c>row</c> (<c>device</c>, <c>mean</c>, <c>another-device</c>,
/// <c>next-measurement</c>), <c>device</c>, <c>audits</c> (how many), <c>value</c>, <c>unit</c>, <c>low</c>, <c>high</c> (95 %),
/// <c>weight</c>, <c>mean_without</c>, <c>influence</c>, <c>dof</c>, <c>spread_reml</c>, <c>spread_paule_mandel</c>, <c>spread_low</c>,
/// <c>spread_high</c>. What is not known is empty.
/// </remarks>
public static class PoolTable
{
    /// <summary>Makes the table.</summary>
    /// <param name="pool">The pool.</param>
    public static DataFrame Of(PoolResult pool)
    {
        ArgumentNullException.ThrowIfNull(pool);
        var rows = pool.Figures.SelectMany(Rows).ToList();
        return new TableColumns<Row>(rows)
            .Text("figure", r => StableName.Of(r.Figure.Figure))
            .Text("charger", r => r.Figure.Charger)
            .Text("row", r => r.Kind)
            .Text("device", r => r.Device?.Name)
            .Number("audits", r => r.Device?.Audits.Count)
            .Number("value", r => r.Value.Value)
            .Text("unit", r => r.Figure.Unit)
            .Number("low", r => r.Value.Low)
            .Number("high", r => r.Value.High)
            .Number("weight", r => r.Device?.Weight)
            .Number("mean_without", r => r.Device?.MeanWithout?.Value)
            .Number("influence", r => r.Device?.Influence)
            .Number("dof", r => r.Device is null ? r.Figure.Answer!.MeanDegreesOfFreedom : null)
            .Number("spread_reml", r => Spread(r)?.Reml)
            .Number("spread_paule_mandel", r => Spread(r)?.PauleMandel)
            .Number("spread_low", r => Spread(r)?.Low)
            .Number("spread_high", r => Spread(r)?.High)
            .Table();
    }

    private static DeviceSpread? Spread(Row row) => row.Kind == "mean" ? row.Figure.Answer!.Spread : null;

    private static IEnumerable<Row> Rows(PooledFigure figure)
    {
        foreach (var device in figure.Devices)
        {
            yield return new Row(figure, "device", device, device.Own);
        }

        if (figure.Answer is { } answer)
        {
            yield return new Row(figure, "mean", null, answer.Mean);
            yield return new Row(figure, "another-device", null, answer.AnotherDevice);
            yield return new Row(figure, "next-measurement", null, answer.NextMeasurement);
        }
    }

    private sealed record Row(PooledFigure Figure, string Kind, PooledDevice? Device, PooledValue Value);
}
