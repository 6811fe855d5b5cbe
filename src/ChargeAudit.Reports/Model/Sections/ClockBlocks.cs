using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>How the clocks of the two logs of a run differ.</summary>
internal static class ClockBlocks
{
    /// <summary>One line for each run; none where no run has two meters.</summary>
    public static IEnumerable<Block> Of(AuditResult result)
    {
        var clocks = result.Methods.SelectMany(m => m.Runs).SelectMany(r => r.Clocks, (run, clock) => (run.Id, Clock: clock)).ToList();
        if (clocks.Count == 0)
        {
            yield break;
        }

        yield return new DataTable(
            "The meters' clocks, compared by their power steps",
            [new("Run"), new("Clock"), new("Compared with"), new("Runs ahead by", ColumnKind.Number), new("What was done")],
            [.. clocks.Select(c => (IReadOnlyList<string>)[
                c.Id,
                Words.Place(c.Clock.Point),
                Words.Place(c.Clock.Reference),
                Cells.Of(c.Clock.AheadS),
                c.Clock.Applied
                    ? "the charge's start and end were shifted by it"
                    : "nothing was shifted: each log was cut by its own charge"])])
        { Folded = clocks.Count > 6 };
    }
}
