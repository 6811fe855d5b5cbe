using ChargeAudit.Comparing.Placement;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Comparing.Tables;

/// <summary>What the place of the device changes as one flat table: one row for each measured position, then one row for each level of each
/// factor.</summary>
/// <remarks>
/// Columns: <c>method</c>, <c>row</c> (<c>position</c> or <c>level</c>), <c>offset_x_mm</c>, <c>offset_y_mm</c> (of positions),
/// <c>factor</c>, <c>level</c>, <c>level_unit</c> (of levels), <c>runs</c> (how many), <c>run_ids</c>, <c>figure</c> (<c>efficiency</c> or
/// <c>energy-per-charge</c>), <c>from</c>, <c>to</c> (measuring points), <c>value</c>, <c>unit</c>, <c>value_u</c>, <c>value_low</c>,
/// <c>value_high</c>, <c>to_best</c> and <c>to_reference</c> (taken by what the best position and the wired reference take). What is not
/// known is empty.
/// </remarks>
public static class PlacementTable
{
    /// <summary>Makes the table.</summary>
    /// <param name="placement">The finding.</param>
    public static DataFrame Of(PlacementResult placement)
    {
        ArgumentNullException.ThrowIfNull(placement);
        var rows = placement.Methods.SelectMany(m => m.Positions.Select(p => new Row(m, "position", p, null, null, p.Runs, p.Shown))
            .Concat(m.Responses.SelectMany(r => r.Levels, (r, l) => new Row(m, "level", null, r.Factor, l, l.Runs, l.Shown)))).ToList();
        return new DataFrame(
            Text("method", rows, r => r.Method.Method),
            Text("row", rows, r => r.Kind),
            Number("offset_x_mm", rows, r => r.Position?.XMm),
            Number("offset_y_mm", rows, r => r.Position?.YMm),
            Text("factor", rows, r => r.Factor is { } factor ? StableName.Of(factor) : null),
            Text("level", rows, r => r.Level is { } level ? level.Value is { } value ? InvariantText.Of($"{value}") : level.Name : null),
            Text("level_unit", rows, r => r.Factor is { } factor ? RunFactors.UnitOf(factor) : null),
            Number("runs", rows, r => r.Runs.Count),
            Text("run_ids", rows, r => string.Join(' ', r.Runs)),
            Text("figure", rows, r => r.Method.Figure.To is null ? "energy-per-charge" : "efficiency"),
            Text("from", rows, r => StableName.Of(r.Method.Figure.From)),
            Text("to", rows, r => r.Method.Figure.To is { } to ? StableName.Of(to) : null),
            Number("value", rows, r => r.Shown.Value),
            Text("unit", rows, r => r.Shown.Unit),
            Number("value_u", rows, r => r.Shown.StandardUncertainty),
            Number("value_low", rows, r => r.Shown.Interval()?.Low),
            Number("value_high", rows, r => r.Shown.Interval()?.High),
            Number("to_best", rows, r => r.Position is null ? null : r.Position.ToBest?.Value ?? 1),
            Number("to_reference", rows, r => r.Position?.ToReference?.Value));
    }

    private static StringDataFrameColumn Text(string name, List<Row> rows, Func<Row, string?> of) => new(name, rows.Select(of));

    private static DoubleDataFrameColumn Number(string name, List<Row> rows, Func<Row, double?> of) =>
        new(name, rows.Select(r => of(r) is { } value && double.IsFinite(value) ? value : (double?)null));

    private sealed record Row(
        MethodPlacement Method, string Kind, MeasuredPosition? Position, Factor? Factor, FactorLevel? Level, IReadOnlyList<string> Runs,
            Measured Shown);
}
