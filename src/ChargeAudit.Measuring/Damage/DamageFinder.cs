using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Finds damaged readings in the summary of a whole log. Looking costs the rows nothing: the envelope keeps each row's value, or of a long
/// log the extremes of some rows. Where something is found, the log is read again with the stretches marked, so that its rows are counted,
/// reported with their lines, and left out.
/// </summary>
internal static class DamageFinder
{
    // More is not damage but a log of another kind.
    private const int MostStretches = 64;

    /// <summary>The damaged stretches in order of time; empty for a sound log.</summary>
    public static IReadOnlyList<MarkedStretch> Find(LogSummary summary, LogLayout layout)
    {
        var rules = summary.Rules;
        if (rules.Source == PowerSource.EnergyCounter)
        {
            return [];
        }

        var cells = ReadingCell.Of(summary.Envelope);
        var counter = CounterBeside.Of(summary);
        // Only its line is wanted: the log will be refused.
        if (Changed(cells, summary, counter) is var (timeS, what))
        {
            return [new MarkedStretch(timeS + StampShift.Of(rules), double.PositiveInfinity, FaultKind.ChangedUnit, what)];
        }

        var wild = WildRows.Find(cells, rules, counter).ToList();
        var absurd = AbsurdReadings.Find(cells, rules, counter).Where(a => !wild.Exists(w => w.FromS <= a.FromS && a.FromS < w.ToS))
            .Take(MostStretches + 1).ToList();
        if (absurd.Count > MostStretches)
        {
            absurd = [AsOne(absurd) with { FromS = double.NegativeInfinity, ToS = double.PositiveInfinity }];
        }

        // The two searches that take longest run side by side.
        var stuck = Task.Run(() => StuckReadings.Find(cells, rules, layout).ToArray());
        var others = ClippedReadings.Find(cells, rules, layout).Concat(AtMost(ZeroReadings.Find(cells, summary, layout)))
            .Concat(NegativeReadings.Find(cells, rules)).Concat(wild).Concat(QuietClock.Find(cells, rules)).ToArray();
        MarkedStretch[] found = [.. absurd.Concat(stuck.GetAwaiter().GetResult()).Concat(others).OrderBy(m => m.FromS).Take(MostStretches)];
        ReadingCell.GiveBack(cells);
        return found;
    }

    private static (double TimeS, string What)? Changed(ReadingCell[] cells, LogSummary summary, CounterBeside? counter) =>
        ChangedUnit.Find(cells, summary.Rules, counter) is var (timeS, what)
            ? (timeS, $"{what}: its unit changed; split the log there and give each part its unit")
            : TurnedSign.FromS(cells) is { } turnsS
                ? (turnsS, "power is as large as in the row before and has the other sign, and stays so: split the log there and give each "
                    + "part its sign")
                : ProductBeside.PartsAtS(cells, summary) is { } partsS
                    ? (partsS, "power was voltage times current up to there and is not from there on: a column changed its unit or its "
                        + "place; split the log there and give each part its columns")
                    : null;

    private static MarkedStretch AsOne(List<MarkedStretch> all) =>
        all[0] with { ToS = all[^1].ToS, HiddenJ = all.Sum(a => a.HiddenJ) };

    // Where rows are lost again and again, all between the first and the last of them are.
    private static List<MarkedStretch> AtMost(IEnumerable<MarkedStretch> zeros) =>
        zeros.ToList() is var all && all.Count > MostStretches ? [AsOne(all)] : all;

    /// <summary>What was marked, as faults: one for each kind.</summary>
    public static IEnumerable<Fault> Faults(LogSummary summary)
    {
        var marked = summary.Rules.Marked.Zip(summary.Marked).Where(m => m.Second.Count > 0).ToList();
        foreach (var kind in marked.GroupBy(m => m.First.Kind))
        {
            var all = kind.Select(m => m.Second).Aggregate(FaultTally.Join);
            yield return new Fault(kind.Key, all.FirstLine, all.LastLine, all.Count, kind.First().First.Detail);
        }

        var ahead = ClockAhead.Find(summary).ToList();
        if (ahead.Count > 0)
        {
            yield return new Fault(FaultKind.ClockStep, ahead[0].Line, ahead[^1].Line, ahead.Count, Prose.Of(
                $"the time jumps ahead by an hour to the row and power goes on as it was: the clock was probably put forward (as for "
                    + $"summer time, which naming the log's time zone resolves); {ahead.Sum(a => a.EnergyJ) / 3600:G3} Wh were put in for "
                    + $"that hour, and the interval reaches down to none of it"));
        }
    }

    /// <summary>Refuses a log whose unit changes, with too many readings that cannot be true, or whose power stays where no charger's
    /// does.</summary>
    /// <exception cref="InputException">It is so.</exception>
    public static void Refuse(string file, LogSummary summary, double mostShare)
    {
        var faults = Faults(summary).ToList();
        if (faults.FirstOrDefault(f => f.Kind == FaultKind.ChangedUnit) is { } changed)
        {
            // Rows that were left out as no charger's may have been the first of the new unit.
            long first = summary.Implausible.Count > 2 ? Math.Min(changed.FirstLine, summary.Implausible.FirstLine) : changed.FirstLine;
            throw new InputException(InputProblem.Unusable,
                InvariantText.Of($"{file}, line {first}: {changed.Detail}"));
        }

        if (summary.CounterUnitChangesAt is { } changesAt && summary.Rules.Source == PowerSource.EnergyCounter)
        {
            throw new InputException(InputProblem.Unusable, InvariantText.Of(
                $"{file}, line {changesAt}: the energy counter rises by more than any charger takes, or falls to a thousandth of what it "
                    + $"was: its unit changed; split the log there and give each part its unit"));
        }

        long implausible = summary.Implausible.Count + faults.Where(f => f.Kind == FaultKind.Implausible).Sum(f => f.Count);
        if (implausible > 2 && implausible > mostShare * (summary.Samples + implausible))
        {
            long line = summary.Implausible.Count > 0
                ? summary.Implausible.FirstLine
                : faults.First(f => f.Kind == FaultKind.Implausible).FirstLine;
            throw new InputException(InputProblem.Unusable, Prose.Of(
                $"{file}, line {line}: {implausible} of {summary.Samples + implausible} readings cannot be true (above "
                    + $"{summary.Rules.ImplausibleAboveW:F0} W, or alone far above the others), the first in this line; probably its unit, "
                    + $"or that of a column, changed there: look at its rows"))
            { Remedy = Remedy.Inspect };
        }

        double mostW = summary.Rules.ChargerAtMostW;
        if (summary.Rules.Source != PowerSource.EnergyCounter && ReadsAbove(summary.Envelope, mostW)
            && AbsurdReadings.KeptUpW(ReadingCell.Of(summary.Envelope)) is var keptUpW && keptUpW > mostW)
        {
            throw new InputException(InputProblem.Unusable, Prose.Of(
                $"{file}: power stays at {keptUpW:G4} W, more than the {mostW:F0} W that a charger of a portable device takes or gives; "
                    + $"watts were expected, so its unit, or that of a column, is another one from some row on or throughout; look at "
                    + $"its rows"))
            { Remedy = Remedy.Inspect };
        }
    }

    private static bool ReadsAbove(PowerEnvelope envelope, double powerW)
    {
        for (int i = 0; i < envelope.Count; i++)
        {
            if (envelope[i].Readings > 0 && envelope[i].MaxPowerW > powerW)
            {
                return true;
            }
        }

        return false;
    }
}
