using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Power while nothing is charged.</summary>
internal static class StandbySection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result, IReadOnlySet<string> keys)
    {
        var blocks = new List<Block>();
        blocks.AddRange(Cells.Picture(keys, "stand-by"));
        blocks.Add(new DataTable(
            "Stand-by power: full is charged and still on the charger, waiting is powered with no device",
            [new("Method"), new("Measured"), new("Full", ColumnKind.Number),
                new("Waiting", ColumnKind.Number)],
            [.. result.Methods.SelectMany(m => m.Points.OrderBy(p => p.Key), (m, p) => (IReadOnlyList<string>)[
                m.Name, Words.At(p.Key), Cells.Of(p.Value.MaintenancePower), Cells.Of(p.Value.NoLoadPower)])]));
        var notes = result.Methods.SelectMany(m => m.Points.OrderBy(p => p.Key).SelectMany(p => p.Value.StandbyNotes)).Distinct().ToList();
        if (notes.Count > 0)
        {
            blocks.Add(new Subheading("How these figures were obtained"));
            blocks.Add(new Bullets(Joined(notes)));
        }

        return new Section("stand-by", "Stand-by", blocks);
    }

    // What holds for several logs alike is said once, after their names.
    private static List<string> Joined(List<string> notes) =>
    [
        .. notes.Select(n => n.Split(": ", 2)).GroupBy(n => n[^1], n => n.Length > 1 ? n[0] : null)
            .Select(g => g.OfType<string>().ToList() is { Count: > 0 } logs ? $"{Alike.Listed(logs)}: {g.Key}" : g.Key),
    ];
}
