using ChargeAudit.Comparing.Results;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Text;

/// <summary>What was assumed for a year, as sentences.</summary>
public static class YearAssumptions
{
    /// <summary>Each sentence once; where it does not hold for all methods, after the names of those that it holds for.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<string> Of(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return
        [
            .. result.Methods
                .SelectMany(m => m.Yearly.Detail?.Assumptions ?? [], (m, sentence) => (m.Name, Sentence: sentence.TrimEnd('.')))
                .GroupBy(a => a.Sentence, a => a.Name)
                .Select(g => g.Count() == result.Methods.Count
                    ? $"{PlainWords.Capital(g.Key)}."
                    : $"{string.Join(", ", g)}: {g.Key}."),
        ];
    }
}
