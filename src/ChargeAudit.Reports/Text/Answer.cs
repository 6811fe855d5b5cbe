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

    /// <summary>What a year costs, or takes; one sentence for each method, and the difference.</summary>
    public static IReadOnlyList<string> YearSentences(AuditResult result)
    {
        var sentences = new List<string>();
        foreach (var method in result.Methods)
        {
            string energy = method.Yearly.Energy.Value is { } kwh
                ? $"uses {FigureText.Of(kwh)} at the wall"
                : $"uses an amount of energy that is not known: {method.Yearly.Energy.WhyNot}";
            string rests = DerivedText.Behind(method.Yearly.Energy);
            string cost = method.Yearly.Energy.Value is null ? "" : method.Yearly.Cost.Value is { } money
                ? $" and costs {FigureText.Of(money)}{rests}"
                : $"{rests}; its cost is not known: {method.Yearly.Cost.WhyNot}";
            sentences.Add($"A year of charging {Charging(result, method.Name)} {energy}{cost}.");
        }

        foreach (var comparison in result.Comparisons.Where(c => c.ExtraCostPerYear.Value is not null))
        {
            var extra = comparison.ExtraCostPerYear.Value!;
            sentences.Add(
                $"A year of charging {Charging(result, comparison.Method)} costs {FigureText.Of(extra)} more than "
                + $"{Charging(result, comparison.Reference)}{DerivedText.Behind(comparison.ExtraCostPerYear)}.");
        }

        return sentences;
    }

    private static string Sentence(AuditResult result, ComparisonResult c) => c.OverheadRatio.Value is { } ratio
        ? $"Charging {Charging(result, c.Method)} uses {OverheadText.Difference(ratio)} energy "
            + $"{DerivedText.How(c.OverheadRatio, Words.At(c.Point))} than charging {Charging(result, c.Reference)} "
            + $"({OverheadText.Certainty(ratio)})."
        : $"How much more energy charging {Charging(result, c.Method)} uses than charging {Charging(result, c.Reference)} is not known: "
            + $"{c.OverheadRatio.WhyNot}.";

    /// <summary>How one method of the study charges: <c>by cable</c>, <c>on the pad</c>.</summary>
    internal static string Charging(AuditResult result, string method) =>
        result.Methods.FirstOrDefault(m => m.Name == method) is { } found ? PlainWords.Charging(method, found.Kind) : $"with {method}";
}
