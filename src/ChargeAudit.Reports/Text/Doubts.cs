using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Reports.Text;

/// <summary>
/// What a careful reader should doubt: each sentence once, the gravest first. First comes what may make a figure wrong or its interval too
/// narrow, then what makes an interval wider, what is unfair between methods, what was assumed, and how the logs were read.
/// </summary>
public static class Doubts
{
    /// <summary>What holds of every measurement.</summary>
    public const string Always =
        "The figures hold for this device, charger, position on the pad and temperature. Another position alone can change what a pad "
            + "uses.";

    /// <summary>All doubts.</summary>
    /// <param name="result">The results.</param>
    /// <param name="saidAbove">Assumptions that are already shown.</param>
    public static IReadOnlyList<Doubt> Of(AuditResult result, IReadOnlyList<string>? saidAbove = null)
    {
        ArgumentNullException.ThrowIfNull(result);
        return Ranked(result,
        [
            .. OfFigures(result),
            .. result.Fairness.Select(n => (n.Gravity, new Alike.Named(null, n.Text))),
            .. result.Logs.SelectMany(l => l.Faults.Select(f => (OfFault(f.Kind), Named(l.Files[0],
                $", line {f.FirstLine}: {Words.Fault(f.Kind)} ({f.Count}): {f.Detail}.")))),
            .. result.Assumptions.Except(saidAbove ?? []).Select(a => (Gravity.Assumed, new Alike.Named(null, a))),
        ]);
    }

    /// <summary>Doubts of the study as a whole and of single logs, without what has a place of its own in a report: fairness, faults and
    /// assumptions.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<Doubt> OfStudyAndLogs(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return Ranked(result, [.. OfFigures(result)]);
    }

    /// <summary>Why the comparison may not be fair, with the runs that each reason refers to; what holds for several methods is said
    /// once.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<(string Text, IReadOnlyList<string> Runs)> OfFairness(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var notes = result.Fairness.OrderBy(n => n.Gravity).ToList();
        return
        [
            .. new Alike(result).Groups([.. notes.Select(n => new Alike.Named(null, n.Text))])
                .Select(g => (g.Text, (IReadOnlyList<string>)[.. g.Of.SelectMany(i => notes[i].Runs).Distinct()])),
        ];
    }

    /// <summary>What was assumed where the study does not say; what holds for several logs or methods is said once.</summary>
    /// <param name="result">The results.</param>
    public static IReadOnlyList<string> OfAssumptions(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return new Alike(result).Once(result.Assumptions);
    }

    // Signs that the study puts its logs together wrongly or that a meter is wrong, and what is doubtful about each log.
    private static IEnumerable<(Gravity Gravity, Alike.Named Said)> OfFigures(AuditResult result) =>
    [
        .. result.Doubts.Select(d => (Gravity.Wrong, new Alike.Named(null, d))),
        .. result.Stages.Where(s => s.Check is not null).Select(s => (Gravity.Wrong,
            new Alike.Named(null, $"{s.Method}, {Words.Place(s.From)} to {Words.Place(s.To)}: {s.Check!.Text}"))),
        .. result.Logs.SelectMany(l => l.Doubts, (log, doubt) => (doubt.Gravity, Named(string.Join(" + ", log.Files), $": {doubt.Text}"))),
    ];

    private static IReadOnlyList<Doubt> Ranked(AuditResult result, IEnumerable<(Gravity Gravity, Alike.Named Said)> doubts)
    {
        var ranked = doubts.OrderBy(d => d.Gravity).ToList();
        return [.. new Alike(result).Groups([.. ranked.Select(d => d.Said)]).Select(g => new Doubt(ranked[g.Of[0]].Gravity, g.Text))];
    }

    // Readings that are wrong come before rows that are missing or were counted otherwise, whose energy the interval holds.
    private static Gravity OfFault(FaultKind kind) => kind switch
    {
        FaultKind.Clipped or FaultKind.Reversed or FaultKind.Implausible or FaultKind.Stuck or FaultKind.ZeroReadings
            or FaultKind.ChangedUnit or FaultKind.CounterMismatch => Gravity.Wrong,
        FaultKind.Gap or FaultKind.ClockStep or FaultKind.TimeBackwards or FaultKind.CounterReset or FaultKind.CounterReading
            => Gravity.Wide,
        _ => Gravity.Reading,
    };

    private static Alike.Named Named(string log, string rest) => new(log, rest);
}
