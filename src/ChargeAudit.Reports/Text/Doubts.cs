using System.Text.RegularExpressions;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Text;

/// <summary>
/// What a careful reader should doubt: each sentence once, the gravest first. What speaks against the study as a whole comes before what
/// concerns one log, and how a log was read comes last.
/// </summary>
public static partial class Doubts
{
    /// <summary>What holds of every measurement.</summary>
    public const string Always =
        "The figures hold for this device, charger, position on the pad and temperature. Another position alone can change what a pad "
            + "uses.";

    /// <summary>Signs that the study puts its logs together wrongly, or that a meter is wrong.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<string> OfStudy(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return
        [
            .. result.Doubts,
            .. result.Stages.Where(s => s.Check is not null)
                .Select(s => $"{s.Method}, {Words.Place(s.From)} to {Words.Place(s.To)}: {s.Check!.Text}"),
        ];
    }

    /// <summary>Doubts of single logs; what holds for several is said once, after all their names.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<string> OfLogs(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return OfEach(result.Logs.SelectMany(l => l.Doubts, (log, text) => (string.Join(" + ", log.Files), text)));
    }

    /// <summary>How logs were read where there was a choice; likewise once.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<string> OfReading(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return OfEach(result.Logs.SelectMany(l => l.Layout.Notes, (log, text) => (string.Join(" + ", log.Files), text)));
    }

    /// <summary>
    /// Sentences about things, each sentence once after the names of all things that it holds for. Sentences that differ in their figures
    /// alone are one: the first is told, and the names of the others follow.
    /// </summary>
    /// <param name="said">Names and sentences, in order.</param>
    public static IReadOnlyList<string> OfEach(IEnumerable<(string Name, string Text)> said) =>
    [
        .. said.GroupBy(s => Figures().Replace(WrittenMarks.Exact(s.Text), "#")).Select(g =>
        {
            var (first, alike) = (g.First(), g.GroupBy(s => s.Text, s => s.Name).First().Distinct().ToList());
            var others = g.Select(s => s.Name).Except(alike).ToList();
            string likewise = others.Count == 0 ? "" : $" Likewise, with other figures: {Listed(others)}.";
            return $"{Listed(alike)}: {first.Text}{likewise}";
        }),
    ];

    [GeneratedRegex(@"\d+([.,]\d+)?(E[+-]?\d+)?")]
    private static partial Regex Figures();

    private static string Listed(List<string> names) => names.Count switch
    {
        1 => names[0],
        <= 4 => $"{string.Join(", ", names.Take(names.Count - 1))} and {names[^1]}",
        _ => $"{string.Join(", ", names.Take(3))} and {FigureText.Count(names.Count - 3)} more logs",
    };
}
