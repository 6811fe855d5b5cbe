using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Text;

/// <summary>The answer of an audit in sentences.</summary>
public static class Answer
{
    /// <summary>The comparison that the answer rests on for each method: a known one before an unknown, a measured one before a derived,
    /// and of those the one nearest the wall.</summary>
    public static IReadOnlyList<ComparisonResult> Headlines(AuditResult result) =>
    [
        .. result.Comparisons.GroupBy(c => c.Method)
            .Select(g => g.OrderBy(c => c.OverheadRatio.Value is null).ThenBy(c => c.OverheadRatio.Assumed is not null).ThenBy(c => c.Point)
                .First()),
    ];

    /// <summary>How much more energy, with its interval; one sentence for each method.</summary>
    public static IReadOnlyList<string> Sentences(AuditResult result)
    {
        var headlines = Headlines(result);
        return headlines.Count == 0
            ? [$"There is nothing to compare: no method was measured at the same point as {result.Study.Reference}."]
            : [.. headlines.Select(c => Sentence(result, c))];
    }

    /// <summary>What a year uses and costs: one sentence for each method, one for each reason why a figure is not known, the differences,
    /// and what figures rest on besides measurements, each once.</summary>
    public static IReadOnlyList<string> YearSentences(AuditResult result)
    {
        var known = result.Methods.Where(m => m.Yearly.Energy.Value is not null).ToList();
        var sentences = new List<string>();
        foreach (var method in known)
        {
            string cost = method.Yearly.Cost.Value is { } money ? $" and costs {FigureText.Of(money)}" : "";
            sentences.Add($"A year of charging {Charging(result, method.Name)} uses {FigureText.Of(method.Yearly.Energy.Value!)} at the "
                + $"wall{cost}.");
        }

        sentences.AddRange(result.Methods.Except(known).GroupBy(m => m.Yearly.Energy.WhyNot).Select(g =>
            $"How much energy a year of charging {All(result, g)} uses is not known: {g.Key}."));
        sentences.AddRange(known.Where(m => m.Yearly.Cost.Value is null).GroupBy(m => m.Yearly.Cost.WhyNot).Select(g =>
            $"What a year of charging {All(result, g)} costs is not known: {g.Key}."));
        foreach (var comparison in result.Comparisons.Where(c => c.ExtraCostPerYear.Value is not null))
        {
            var extra = comparison.ExtraCostPerYear.Value!;
            sentences.Add(
                $"A year of charging {Charging(result, comparison.Method)} costs {FigureText.Of(extra)} more than "
                + $"{Charging(result, comparison.Reference)}.");
        }

        sentences.AddRange(known.Where(m => m.Yearly.Energy.Assumed is not null).GroupBy(m => m.Yearly.Energy.Assumed).Select(g =>
            $"The figures for a year of charging {All(result, g)} rest on {g.Key}."));
        return sentences;
    }

    private static string Sentence(AuditResult result, ComparisonResult c) => c.OverheadRatio.Value is { } ratio
        ? $"Charging {Charging(result, c.Method)} uses {OverheadText.Difference(ratio)} energy "
            + $"{DerivedText.How(c.OverheadRatio, Words.At(c.Point))} than charging {Charging(result, c.Reference)} "
            + $"({OverheadText.Certainty(ratio)})."
        : $"How much more energy charging {Charging(result, c.Method)} uses than charging {Charging(result, c.Reference)} is not known: "
            + $"{c.OverheadRatio.WhyNot}.";

    private static string All(AuditResult result, IEnumerable<MethodResult> methods) =>
        Alike.Listed([.. methods.Select(m => Charging(result, m.Name))]);

    /// <summary>How one method of the study charges: <c>by cable</c>, <c>on the pad</c>.</summary>
    internal static string Charging(AuditResult result, string method) =>
        result.Methods.FirstOrDefault(m => m.Name == method) is { } found ? PlainWords.Charging(method, found.Kind) : $"with {method}";
}
