using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>Short lines on clocks, ends of charge, losses and stand-by for the terminal; the report holds the tables.</summary>
internal static class ChainText
{
    /// <summary>The ratio under the other rules for the end of a charge, and the clocks.</summary>
    public static IReadOnlyList<string> Energies(AuditResult result)
    {
        var lines = new List<string>();
        foreach (var c in Answer.Headlines(result).Where(c => c.EndRules.Count > 0))
        {
            var rules = c.EndRules.Where(e => e.Rule != EndRule.PlainShare && e.Ratio is not null)
                .Select(e => FigureText.Plain(100 * (e.Ratio!.Value - 1), "%", 3)).ToList();
            if (rules.Count > 1)
            {
                lines.Add(
                    $"{c.Method}, {Words.At(c.Point)}: by the two other rules for the end of a charge the overhead is "
                        + $"{string.Join(" and ", rules)}; "
                    + "their spread is in the interval.");
            }
        }

        lines.AddRange(BlockText.Of(result));
        var clocks = result.Methods.SelectMany(m => m.Runs).SelectMany(r => r.Clocks, (run, clock) => $"{run.Id} {Clock(clock)}").ToList();
        if (clocks.Count > 0)
        {
            lines.Add($"Clocks of the meters: {string.Join("; ", clocks)}.");
        }

        return lines;
    }

    /// <summary>What is lost beyond the stages, and the adapter.</summary>
    public static IReadOnlyList<string> Losses(AuditResult result) =>
    [
        .. result.Losses.SelectMany(l => l.Parts.Where(p => p.To is null),
            (l, p) => $"{l.Method}: {FigureText.Of(p.EnergyWh)} lost in {LossSplit.Name(p)}; it rests on {p.EnergyWh.Assumed}."),
        .. result.Losses.Where(l => l.NotSeparated is not null).Select(l => $"{l.Method}: {l.NotSeparated}"),
        .. result.AdapterCurves.Where(c => c.Efficiencies[^1].Efficiency.Value is not null).Select(c =>
            $"{c.Method}: the adapter's efficiency is {FigureText.Of(FigureText.Percent(c.Efficiencies[^1].Efficiency.Value!))} at "
                + $"{FigureText.Plain(c.GreatestOutW, "W", 3)}, the greatest load seen."),
        .. result.NoAdapterCurve,
    ];

    /// <summary>How the stand-by powers were obtained, where a log was made for the purpose.</summary>
    public static IReadOnlyList<string> Standby(AuditResult result) =>
        [.. result.Methods.SelectMany(m => m.Points.OrderBy(p => p.Key).SelectMany(p => p.Value.StandbyNotes)).Distinct()
            .Where(n => !n.Contains("the full device was logged for", StringComparison.Ordinal))];

    private static string Clock(ClockResult c) => $"{Words.Place(c.Point)} " + (c.AheadS.Value is { } ahead
        ? $"{FigureText.Value(ahead.Value < 0 ? -1 * ahead : ahead)} {(ahead.Value < 0 ? "behind" : "ahead of")} "
            + $"{Words.Place(c.Reference)}"
        : $"not known ({c.AheadS.WhyNot})") + (c.Applied ? ", applied" : ", not applied");
}
