using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Defects of the logs, with their lines.</summary>
internal static class FaultSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result)
    {
        var faults = result.Logs.SelectMany(l => l.Faults, (log, fault) => (log, fault)).ToList();
        return new Section("faults", "Faults in the logs",
        [
            faults.Count == 0
                ? new Paragraph($"No faults were found in {FigureText.Count(result.Logs.Count)} logs.")
                : new DataTable(
                    "Faults, one row for each kind and log",
                    [new("File"), new("What is wrong"), new("Where"), new("How often", ColumnKind.Number), new("What was done")],
                    [.. faults.Select(f =>
                        (IReadOnlyList<string>)[string.Join(" + ", f.log.Files), Words.Fault(f.fault.Kind), Where(f.fault),
                        FigureText.Count(f.fault.Count), f.fault.Detail])]),
        ]);
    }

    private static string Where(Fault fault) => fault.FirstLine <= 0 ? "the whole log"
        : fault.LastLine > fault.FirstLine ? $"lines {FigureText.Count(fault.FirstLine)} to {FigureText.Count(fault.LastLine)}"
        : $"line {FigureText.Count(fault.FirstLine)}";
}
