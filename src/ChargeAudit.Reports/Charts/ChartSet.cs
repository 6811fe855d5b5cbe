using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Charts;

/// <summary>All charts of an audit.</summary>
public static class ChartSet
{
    /// <summary>The same charts with the look wanted for files of their own.</summary>
    /// <param name="result">The results.</param>
    /// <param name="look">Width, scale and ground.</param>
    /// <param name="cancellation">Stops between two charts.</param>
    public static IReadOnlyList<Chart> Of(AuditResult result, ChartLook look, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(look);
        using var used = look.Use();
        return Of(result, cancellation);
    }

    /// <summary>The charts that there is something to draw for, in the order of the report.</summary>
    /// <param name="result">The results.</param>
    /// <param name="cancellation">Stops between two charts.</param>
    public static IReadOnlyList<Chart> Of(AuditResult result, CancellationToken cancellation = default)
    {
        using var direct = WrittenForm.UseDirectly();
        var points = RunsAtPoint.Measured(result).Select(p => (Point: p, Curves: PointCurves.Of(result, p, cancellation))).ToList();
        IReadOnlyList<Func<IEnumerable<Chart?>>> drawings =
        [
            .. points.Select(p => One(() => PowerChart.Draw(p.Point, p.Curves))),
            .. points.Select(p => One(() => CumulativeChart.Draw(p.Point, p.Curves))),
            One(() => EnergyChart.Draw(result)),
            One(() => LossChart.Draw(result)),
            One(() => AdapterChart.Draw(result)),
            One(() => StandbyChart.Draw(result)),
            One(() => YearChart.Draw(result)),
            One(() => YearMovesChart.Draw(result)),
            One(() => PlacementMapChart.Draw(result)),
            One(() => ToleranceChart.Draw(result)),
            () => ResponseChart.Draw(result),
        ];
        return [.. SideBySide.Of(drawings.Count, i => drawings[i]().OfType<Chart>().ToList(), cancellation).SelectMany(c => c)];
    }

    private static Func<IEnumerable<Chart?>> One(Func<Chart?> draw) => () => [draw()];
}
