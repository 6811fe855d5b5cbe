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
        return new TableColumns<Row>(rows)
            .Text("method", r => r.Method.Method)
            .Text("row", r => r.Kind)
            .Number("offset_x_mm", r => r.Position?.XMm)
            .Number("offset_y_mm", r => r.Position?.YMm)
            .Text("factor", r => r.Factor is { } factor ? StableName.Of(factor) : null)
            .Text("level", r => r.Level is { } level ? level.Value is { } value ? InvariantText.Of($"{value}") : level.Name : null)
            .Text("level_unit", r => r.Factor is { } factor ? RunFactors.UnitOf(factor) : null)
            .Number("runs", r => r.Runs.Count)
            .Text("run_ids", r => string.Join(' ', r.Runs))
            .Text("figure", r => r.Method.Figure.To is null ? "energy-per-charge" : "efficiency")
            .Text("from", r => StableName.Of(r.Method.Figure.From))
            .Text("to", r => r.Method.Figure.To is { } to ? StableName.Of(to) : null)
            .Number("value", r => r.Shown.Value)
            .Text("unit", r => r.Shown.Unit)
            .Number("value_u", r => r.Shown.StandardUncertainty)
            .Number("value_low", r => r.Shown.Interval()?.Low)
            .Number("value_high", r => r.Shown.Interval()?.High)
            .Number("to_best", r => r.Position is null ? null : r.Position.ToBest?.Value ?? 1)
            .Number("to_reference", r => r.Position?.ToReference?.Value)
            .Table();
    }

    private sealed record Row(
        MethodPlacement Method, string Kind, MeasuredPosition? Position, Factor? Factor, FactorLevel? Level, IReadOnlyList<string> Runs,
            Measured Shown);
}
