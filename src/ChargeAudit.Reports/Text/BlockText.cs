using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Repeats;

namespace ChargeAudit.Reports.Text;

/// <summary>Scatter within and between blocks of runs, and how further runs are best spread, in words.</summary>
public static class BlockText
{
    private const int Further = 10;

    /// <summary>One paragraph for each method and point whose runs were made in named blocks.</summary>
    /// <param name="result">The audit.</param>
    public static IReadOnlyList<string> Of(AuditResult result) => [.. result.Methods.SelectMany(m => m.Points.OrderBy(p => p.Key)
        .Where(p => p.Value.Blocks is { Blocks: > 1 })
        .Select(p => $"{m.Name}, {Words.At(p.Key)}: {Scatter(p.Value.Blocks!)}. {Next(p.Value.Blocks!)}"))];

    /// <summary>Both scatters, as standard deviations.</summary>
    /// <param name="blocks">The scatter.</param>
    public static string Scatter(BlockScatter blocks) => blocks.VarianceWithin is { } within
        ? InvariantText.Of($"in {blocks.Blocks} blocks, runs scatter by {Wh(within)} within a block and blocks by ")
            + $"{Wh(blocks.VarianceBetween ?? 0)} between"
        : InvariantText.Of($"in {blocks.Blocks} blocks of one run each, these scatter by {Wh(blocks.VarianceBetween ?? 0)}");

    /// <summary>How narrow an interval the next ten runs would leave, by how they are spread over blocks.</summary>
    /// <param name="blocks">The scatter.</param>
    public static string Next(BlockScatter blocks)
    {
        var ways = NextRuns.Of(Further, blocks.VarianceWithin ?? 0, blocks.VarianceBetween ?? 0).Where(w => double.IsFinite(w.HalfWidth));
        return InvariantText.Of($"The next {Further} runs leave, by scatter alone, ") + string.Join(", ", ways.Select(w =>
            InvariantText.Of($"± {FigureText.Plain(w.HalfWidth, "Wh", 2)} as {w.Blocks} blocks of {w.RunsEach}"))) + ".";
    }

    private static string Wh(double variance) => FigureText.Plain(Math.Sqrt(variance), "Wh", 2);
}
