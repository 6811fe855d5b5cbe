using ChargeAudit.Analysis.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Power with nothing to charge.</summary>
internal static class StandbySection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result, IReadOnlySet<string> keys) => new("stand-by", "Stand-by",
    [
        .. Cells.Picture(keys, "stand-by"),
        new DataTable(
            "Stand-by power",
            [new("Method"), new("Measured"), new("Full, still connected", ColumnKind.Number), new("Waiting with no device", ColumnKind.Number)],
            [.. result.Methods.SelectMany(m => m.Points.OrderBy(p => p.Key), (m, p) => (IReadOnlyList<string>)[
                m.Name, Words.At(p.Key), Cells.Of(p.Value.MaintenancePower), Cells.Of(p.Value.NoLoadPower)])]),
    ]);
}
