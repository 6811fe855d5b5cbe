using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Comparing.Tables;

/// <summary>The figures of an audit as one flat table, one row a figure.</summary>
/// <remarks>
/// Columns: <c>method</c>, <c>kind</c>, <c>reference</c> (the method that it is compared with; empty where with none), <c>figure</c>,
/// <c>point</c> (where it was measured; of a stage the point upstream), <c>to</c> (of a stage the point downstream), <c>value</c>,
/// <c>unit</c>, <c>value_u</c> (standard uncertainty), <c>value_low</c> and <c>value_high</c> (95 % interval), <c>assumed</c> (what it rests
/// on besides measurements), <c>why_not</c> (why there is no value). What is not known is empty. Figures: <c>energy-per-charge</c>,
/// <c>no-load-power</c>, <c>maintenance-power</c>, <c>efficiency</c>, <c>loss</c>, <c>year-energy</c>, <c>year-cost</c>,
/// <c>year-co2</c>, <c>overhead-ratio</c>, <c>extra-energy-per-charge</c>, <c>extra-year-energy</c>, <c>extra-year-cost</c>,
/// <c>extra-year-co2</c>.
/// </remarks>
public static class FigureTable
{
    /// <summary>Makes the table: each method's own figures, then the stages, then each method beside the reference.</summary>
    /// <param name="result">The audit.</param>
    public static DataFrame Of(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var kinds = result.Methods.ToDictionary(m => m.Name, m => StableName.Of(m.Kind));
        List<Row> rows = [.. result.Methods.SelectMany(OfMethod), .. result.Stages.SelectMany(OfStage),
            .. result.Comparisons.SelectMany(OfComparison), .. result.Years.SelectMany(OfYears)];
        return new TableColumns<Row>(rows)
            .Text("method", r => r.Method)
            .Text("kind", r => kinds.GetValueOrDefault(r.Method))
            .Text("reference", r => r.Reference)
            .Text("figure", r => r.Name)
            .Text("point", r => StableName.Of(r.Point))
            .Text("to", r => r.To is { } to ? StableName.Of(to) : null)
            .Number("value", r => r.Figure.Value?.Value)
            .Text("unit", r => r.Figure.Value?.Unit)
            .Uncertainty("value", r => r.Figure.Value)
            .Text("assumed", r => r.Figure.Assumed)
            .Text("why_not", r => r.Figure.WhyNot)
            .Table();
    }

    private static IEnumerable<Row> OfMethod(MethodResult method)
    {
        foreach (var (point, at) in method.Points.OrderBy(p => p.Key))
        {
            yield return new(method.Name, "energy-per-charge", point, at.EnergyPerCharge);
            yield return new(method.Name, "no-load-power", point, at.NoLoadPower);
            yield return new(method.Name, "maintenance-power", point, at.MaintenancePower);
        }

        yield return new(method.Name, "year-energy", MeasuringPoint.Wall, method.Yearly.Energy);
        yield return new(method.Name, "year-cost", MeasuringPoint.Wall, method.Yearly.Cost);
        if (method.Yearly.Detail is { } detail)
        {
            yield return new(method.Name, "year-co2", MeasuringPoint.Wall, detail.Co2);
        }
    }

    private static IEnumerable<Row> OfStage(StageResult stage)
    {
        yield return new(stage.Method, "efficiency", stage.From, stage.Efficiency, To: stage.To);
        yield return new(stage.Method, "loss", stage.From, stage.Loss, To: stage.To);
    }

    private static IEnumerable<Row> OfComparison(ComparisonResult pair)
    {
        yield return new(pair.Method, "overhead-ratio", pair.Point, pair.OverheadRatio, pair.Reference);
        yield return new(pair.Method, "extra-energy-per-charge", pair.Point, pair.ExtraEnergyPerCharge, pair.Reference);
    }

    private static IEnumerable<Row> OfYears(YearComparison pair)
    {
        yield return new(pair.Method, "extra-year-energy", MeasuringPoint.Wall, pair.Difference.Energy, pair.Reference);
        yield return new(pair.Method, "extra-year-cost", MeasuringPoint.Wall, pair.Difference.Cost, pair.Reference);
        yield return new(pair.Method, "extra-year-co2", MeasuringPoint.Wall, pair.Difference.Co2, pair.Reference);
    }

    private sealed record Row(
        string Method, string Name, MeasuringPoint Point, Figure Figure, string? Reference = null, MeasuringPoint? To = null);
}
