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
        return new Alike(result).Once(
        [
            .. result.Doubts,
            .. result.Stages.Where(s => s.Check is not null)
                .Select(s => $"{s.Method}, {Words.Place(s.From)} to {Words.Place(s.To)}: {s.Check!.Text}"),
        ]);
    }

    /// <summary>Why the comparison may not be fair, with the runs that each reason refers to; what holds for several methods is said
    /// once.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<(string Text, IReadOnlyList<string> Runs)> OfFairness(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return
        [
            .. new Alike(result).Groups([.. result.Fairness.Select(n => n.Text)])
                .Select(g => (g.Text, (IReadOnlyList<string>)[.. g.Of.SelectMany(i => result.Fairness[i].Runs).Distinct()])),
        ];
    }

    /// <summary>The faults of the logs, each kind with its first line; what several logs share is said once.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<string> OfFaults(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return new Alike(result).Once(result.Logs.SelectMany(l =>
            l.Faults.Select(f => $"{l.Files[0]}, line {f.FirstLine}: {Words.Fault(f.Kind)} ({f.Count}): {f.Detail}.")));
    }

    /// <summary>What was assumed where the study does not say; what holds for several logs or methods is said once.</summary>
    /// <param name="result">The results.</param>
    /// <param name="saidAbove">Assumptions that are already told.</param>
    public static IReadOnlyList<string> OfAssumptions(AuditResult result, IReadOnlyList<string>? saidAbove = null)
    {
        ArgumentNullException.ThrowIfNull(result);
        return new Alike(result).Once(result.Assumptions.Except(saidAbove ?? []));
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
            string likewise = others.Count == 0 ? "" : $" Likewise, with other figures, for {Alike.Listed(others, "more logs")}.";
            return $"{Alike.Listed(alike, "more logs")}: {first.Text}{likewise}";
        }),
    ];

    [GeneratedRegex(Alike.Figure)]
    private static partial Regex Figures();
}
