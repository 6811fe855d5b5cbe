using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Studies.Drafting;

/// <summary>
/// A folder may hold a log and summaries of it, or several of one log: of them all one is used, or its charges would count twice. The log
/// itself is, and else the summary for which all was stated that was stated for the others.
/// </summary>
internal static class OneLogOnce
{
    /// <summary>Parts the logs into those to use and those that are another's.</summary>
    /// <param name="logs">What was found, in the order of names.</param>
    /// <param name="passedOver">Takes what is not used, with the reason.</param>
    /// <exception cref="InputException">Two summaries of one log contradict each other.</exception>
    public static List<LogFacts> Of(IReadOnlyList<LogFacts> logs, List<PassedOver> passedOver)
    {
        var used = logs.Where(l => l.Origin is not { Said: not null }).ToList();
        int themselves = used.Count;
        foreach (var summary in logs.Where(l => l.Origin is { Said: not null }))
        {
            int twin = used.FindIndex(u => u.Origin is { } origin && origin.Shares(summary.Origin!));
            if (twin < 0)
            {
                used.Add(summary);
            }
            else if (twin < themselves)
            {
                passedOver.Add(new PassedOver(summary.File, $"it is a summary of {used[twin].File}, which is used itself"));
            }
            else
            {
                var (kept, left) = Chosen(used[twin], summary);
                used[twin] = kept;
                passedOver.Add(new PassedOver(left.File, $"it is a summary of the same log as {kept.File}, which is used"));
            }
        }

        return [.. used.OrderBy(u => u.File, StringComparer.Ordinal)];
    }

    private static (LogFacts Kept, LogFacts Left) Chosen(LogFacts a, LogFacts b)
    {
        string log = a.Origin!.Files[0].Name;
        if (!a.Origin.IsStateOf(b.Origin!))
        {
            throw new InputException(InputProblem.Unusable,
                $"{a.File} and {b.File} are summaries of {log}, but not of the same bytes; remove the one that is out of date or not "
                    + "meant, or charges would count twice");
        }

        var (ofA, ofB) = (a.Origin.Said!, b.Origin!.Said!);
        if (ofA.Keys.Intersect(ofB.Keys).Order(StringComparer.Ordinal).FirstOrDefault(k => ofA[k] != ofB[k]) is { } other)
        {
            throw Contradict($"{other} was \"{ofA[other]}\" for the one and \"{ofB[other]}\" for the other");
        }

        string? onlyA = ofA.Keys.Except(ofB.Keys).Order(StringComparer.Ordinal).FirstOrDefault();
        string? onlyB = ofB.Keys.Except(ofA.Keys).Order(StringComparer.Ordinal).FirstOrDefault();
        return (onlyA, onlyB) switch
        {
            (_, null) => (a, b),
            (null, _) => (b, a),
            _ => throw Contradict($"{onlyA} was stated for the one only, {onlyB} for the other only"),
        };

        InputException Contradict(string how) => new(InputProblem.Unusable,
            $"{a.File} and {b.File} are summaries of one log, {log}, and one was expected: {how}; remove the one that is not meant, or the "
                + "log's charges would count twice");
    }
}
