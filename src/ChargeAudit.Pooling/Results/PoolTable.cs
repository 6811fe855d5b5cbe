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
        return new DataFrame(
            Text("figure", rows, r => StableName.Of(r.Figure.Figure)),
            Text("charger", rows, r => r.Figure.Charger),
            Text("row", rows, r => r.Kind),
            Text("device", rows, r => r.Device?.Name),
            Number("audits", rows, r => r.Device?.Audits.Count),
            Number("value", rows, r => r.Value.Value),
            Text("unit", rows, r => r.Figure.Unit),
            Number("low", rows, r => r.Value.Low),
            Number("high", rows, r => r.Value.High),
            Number("weight", rows, r => r.Device?.Weight),
            Number("mean_without", rows, r => r.Device?.MeanWithout?.Value),
            Number("influence", rows, r => r.Device?.Influence),
            Number("dof", rows, r => r.Device is null ? r.Figure.Answer!.MeanDegreesOfFreedom : null),
            Number("spread_reml", rows, r => Spread(r)?.Reml),
            Number("spread_paule_mandel", rows, r => Spread(r)?.PauleMandel),
            Number("spread_low", rows, r => Spread(r)?.Low),
            Number("spread_high", rows, r => Spread(r)?.High));
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

    private static StringDataFrameColumn Text(string name, List<Row> rows, Func<Row, string?> of) => new(name, rows.Select(of));

    private static DoubleDataFrameColumn Number(string name, List<Row> rows, Func<Row, double?> of) =>
        new(name, rows.Select(r => of(r) is { } value && double.IsFinite(value) ? value : (double?)null));

    private sealed record Row(PooledFigure Figure, string Kind, PooledDevice? Device, PooledValue Value);
}
