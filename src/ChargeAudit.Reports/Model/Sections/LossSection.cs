using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What each stage of the chain loses.</summary>
internal static class LossSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result, IReadOnlySet<string> keys)
    {
        if (result.Stages.Count == 0 && result.Losses.Count == 0)
        {
            return new Section("losses", "Where the energy goes",
                [new Paragraph("The losses are not known: that takes meters at two measuring points of one method.")]);
        }

        var blocks = new List<Block>();
        blocks.AddRange(Cells.Picture(keys, "losses"));
        blocks.AddRange(Split(result));
        if (result.Stages.Count > 0)
        {
            blocks.Add(Stages(result));
        }

        blocks.AddRange(AdapterBlocks.Of(result, keys));
        return new Section("losses", "Where the energy goes", blocks);
    }

    private static IEnumerable<Block> Split(AuditResult result)
    {
        if (result.Losses.Count == 0)
        {
            yield break;
        }

        yield return new DataTable(
            "Lost per charge, as far as it can be separated",
            [new("Method"), new("Lost in"), new("Between"), new("Loss per charge", ColumnKind.Number)],
            [.. result.Losses.SelectMany(l => l.Parts, (l, p) => (IReadOnlyList<string>)[
                l.Method, LossSplit.Name(p), $"{Words.Place(p.From)} and {(p.To is { } to ? Words.Place(to) : "what the battery stored")}",
                    Cells.Of(p.EnergyWh)])]);
        var open = result.Losses.Where(l => l.NotSeparated is not null).Select(l => $"{l.Method}: {l.NotSeparated}").ToList();
        if (open.Count > 0)
        {
            yield return new Bullets(open);
        }
    }

    private static DataTable Stages(AuditResult result) => new(
        "Stages over a charge",
        [new("Method"), new("Stage"), new("From"), new("To"), new("Efficiency", ColumnKind.Number),
            new("Loss per charge", ColumnKind.Number)],
        [.. result.Stages.Select(s => (IReadOnlyList<string>)[
            s.Method,
            Words.Stage(s.From, s.To, result.Methods.First(m => m.Name == s.Method).Kind),
            Words.Place(s.From),
            Words.Place(s.To),
            Cells.Percent(s.Efficiency),
            Cells.Of(s.Loss)])]);
}
