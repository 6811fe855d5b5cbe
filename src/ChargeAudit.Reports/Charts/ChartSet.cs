using ChargeAudit.Analysis.Results;

namespace ChargeAudit.Reports.Charts;

/// <summary>All charts of an audit.</summary>
public static class ChartSet
{
    /// <summary>The charts that there is something to draw for, in the order of the report.</summary>
    public static IReadOnlyList<Chart> Of(AuditResult result)
    {
        var points = RunsAtPoint.Measured(result);
        return
        [
            .. points.Select(p => PowerChart.Draw(result, p)).OfType<Chart>(),
            .. points.Select(p => CumulativeChart.Draw(result, p)).OfType<Chart>(),
            .. new[] { EnergyChart.Draw(result), LossChart.Draw(result), AdapterChart.Draw(result), StandbyChart.Draw(result), YearChart.Draw(result), YearMovesChart.Draw(result) }.OfType<Chart>(),
            .. new[] { PlacementMapChart.Draw(result), ToleranceChart.Draw(result) }.OfType<Chart>(),
            .. ResponseChart.Draw(result),
        ];
    }
}
