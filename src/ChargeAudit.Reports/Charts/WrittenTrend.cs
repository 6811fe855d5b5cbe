namespace ChargeAudit.Reports.Charts;

/// <summary>A trend chart that was written.</summary>
/// <param name="Chart">The chart.</param>
/// <param name="PngPath">Where its picture is.</param>
public sealed record WrittenTrend(Chart Chart, string PngPath);
