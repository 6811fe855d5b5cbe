using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Readings that stay the same to the last digit among readings that scatter: a sensor that was stuck. Scatter is what tells: in the rows
/// before, at about the same power, neighbours differ and turn up and down, and so they do in the rows after, or these lie well below, as
/// where a stuck sensor catches up with a charge that went on, or there are none and the log ends in mid-charge. A coarse meter whose
/// value dwells in its steps, and a charger that holds its power so well that nothing scatters, show no such rows. Where nothing scatters,
/// a steady move tells: it stops without a jump, and when readings are live again they stand where the move has led to meanwhile; or a fall
/// stops halfway and ends in a drop; or readings that hardly ever stay the same do so for longer than chance allows, entered as smoothly as
/// they moved before and left with a jump (<see cref="LiveReadings"/>), or though the meter's noise shows wherever else the log does not
/// move (<see cref="VisibleNoise"/>), or with a voltage that stays as well (<see cref="FrozenVoltage"/>). Where readings stay the same for
/// long elsewhere as well, none of it is a sign. What stays at the log's greatest value may as well be the end of the range:
/// <see cref="ClippedReadings"/>. In a log of voltage and current the current is looked at by itself as well.
/// </summary>
internal static class StuckReadings
{
    private const int LeastRows = 20;
    private const double LeastS = 60;

    // Less than any meter shows. [A]
    private const double SameA = 1e-8;
    private const double SameLevel = 0.25;

    private const double CaughtUpFrom = 0.1;
    private const double CaughtUpTo = 0.95;

    // Chance lets readings that are equal once in 1/q stay equal for n rows with q^n; e^-25 is next to never.
    private const double LeastSurprise = 25;

    // For readings that move: how much longer than each value of a slow move the stuck one stays, and how much of a surprise that has to be
    // where the move is borne out afterwards.
    private const int TimesAsLong = 8;
    private const int LeastStay = 3;
    private const int LeastOfNoise = 12;
    private const double ShareOfCharge = 0.05;
    private const double Halfway = 0.15;
    private const double LeastOfMove = 8;

    private const double StepsOfAStop = 4;

    // Of its value: a coarser step says too little of where a fall stops, and of scatter.
    private const double FineStep = 0.02;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules, LogLayout layout)
    {
        if (rules.Samples == SampleKind.OnChange)
        {
            yield break;
        }

        var found = In(cells, LiveReadings.StepW(cells, rules, layout), rules, "W", areMeans: false).ToList();
        foreach (var stuck in found)
        {
            yield return stuck;
        }

        // The current may be stuck by itself, and their product is never the same. A full device may hold a current of its own.
        if (rules.Source == PowerSource.DirectCurrentProduct && layout.Resolution.TryGetValue(LogQuantity.Current, out double stepA)
            && stepA > 0 && CurrentStays(cells))
        {
            foreach (var stuck in In(ClippedReadings.OfCurrents(cells), stepA, rules, "A", areMeans: true))
            {
                if (!found.Exists(f => f.FromS <= stuck.ToS && f.ToS >= stuck.FromS))
                {
                    yield return stuck;
                }
            }
        }
    }

    // Whether the current stays the same for a minute anywhere; in most logs it does not, and nothing more needs to be looked at.
    private static bool CurrentStays(ReadingCell[] cells)
    {
        int from = 0;
        for (int i = 1; i < cells.Length; i++)
        {
            bool same = Math.Abs(cells[i].MeanA - cells[from].MeanA) < SameA;
            if (same && i - from >= LeastStay && cells[i].ToS - cells[from].FromS >= LeastS && cells[i].MeanA > SameA)
            {
                return true;
            }

            from = same ? from : i;
        }

        return false;
    }

    private static IEnumerable<MarkedStretch> In(ReadingCell[] cells, double stepW, SummaryRules rules, string unit, bool areMeans)
    {
        double keptUpW = AbsurdReadings.KeptUpW(cells);
        double endW = ClippedReadings.Greatest(cells, rules);
        var live = new LiveReadings(cells, rules, stepW, keptUpW);
        double leastW = ShareOfCharge * keptUpW;
        for (int from = 0; from < cells.Length;)
        {
            int to = from;
            while (to + 1 < cells.Length && cells[from].IsFlat && cells[to + 1].IsFlat && cells[to + 1].MinW == cells[from].MinW)
            {
                to++;
            }

            double lengthS = cells[to].ToS - cells[from].FromS;
            long rows = to == from || (areMeans && cells[from].MinW <= Halfway * keptUpW) ? 1 : Readings(cells, from, to);
            if (rows >= LeastStay && cells[from].IsFlat && cells[from].MinW > leastW && Moved(cells, from, to, (stepW, keptUpW, areMeans)))
            {
                yield return Mark(cells[from], cells[to], lengthS, rules, unit, "move on");
            }
            else if (rows >= LeastRows && lengthS >= LeastS && cells[from].MinW > 0
                && Scatter.Shows(cells, from - Scatter.Rows, from, cells[from].MinW, SameLevel, out double before)
                && rows * Math.Log(1 / Math.Max(0.05, before)) > LeastSurprise
                    && Scatter.UsualStepW(cells, from - Scatter.Rows, from) < FineStep * cells[from].MinW
                    && (Scatter.Shows(cells, to + 1, to + 1 + Scatter.Rows, null, 0, out _) || CaughtUp(cells, to)
                        || (to == cells.Length - 1 && cells[from].MinW > Halfway * keptUpW))
                    && !LiveReadings.OthersStay(cells, from, to, Math.Min(leastW, 0.9 * cells[from].MinW), true))
            {
                yield return Mark(cells[from], cells[to], lengthS, rules, unit, "scatter");
            }
            else if (rows >= LeastStay && cells[from].MinW < endW
                && (live.StopIn(from, to) || (rows >= LeastOfNoise && lengthS >= LeastS && !areMeans && cells[from].MinW > Halfway * keptUpW
                    && !LiveReadings.OthersStay(cells, from, to, Math.Min(leastW, 0.9 * cells[from].MinW), true)
                    && VisibleNoise.Denies(cells, from, to, rules.Source == PowerSource.PowerColumn))))
            {
                yield return Mark(cells[from], cells[to], lengthS, rules, unit, "hardly ever stay the same");
            }
            else if (rows >= LeastStay && lengthS >= LeastS && cells[from].MinW > leastW && FrozenVoltage.Stays(cells, from, to))
            {
                yield return Mark(cells[from], cells[to], lengthS, rules, unit, "are of a voltage that moves");
            }

            from = to + 1;
        }
    }

    // The first of equal readings was still measured.
    private static MarkedStretch Mark(ReadingCell first, ReadingCell last, double lengthS, SummaryRules rules, string unit, string live) =>
        new(first.ToS + StampShift.Of(rules), last.ToS + StampShift.Of(rules), FaultKind.Stuck,
            Prose.Of(
                $"readings stay at {first.MinW:G5} {unit} to the last digit for {lengthS:F0} s, where those before {live}: the sensor was "
            + $"stuck; they were left out, as in a gap"));

    // Readings that are live, then stay where they were, and then stand where a move has led to meanwhile, or, in a fall, below where they
    // stayed.
    private static bool Moved(ReadingCell[] cells, int from, int to, (double StepW, double KeptUpW, bool AreMeans) of)
    {
        var (stepW, keptUpW, areMeans) = of;
        int rows = to - from + 1;
        if (cells[to].ToS - cells[from].FromS < LeastS || stepW > FineStep * cells[from].MinW
            || !Move.Before(cells, from, out var before) || before.Sign == 0)
        {
            return false;
        }

        // Each row that a live reading stays the same is a surprise, the greater the more values it might have gone to.
        double surprise = before.Rows > 1
            ? (rows - 1) * Math.Log(1 + (2 / before.Rows))
            : (rows - 1) * Math.Log(1 + (2 * before.StepW / stepW));
        double enteredW = before.Sign * (cells[from].MinW - cells[from - 1].MiddleW) / before.StepW;
        if (to == cells.Length - 1)
        {
            // A fall flattens before it ends, and drops where a charge is ended: it does not stop halfway at its full rate.
            return rows >= LeastRows && before.Sign < 0 && cells[from].MinW > Halfway * keptUpW && surprise > LeastSurprise
                && before.StepW > StepsOfAStop * stepW && enteredW is > 0.3 and < 1.7 && !LiveReadings.IsLevelMet(cells, from, stepW);
        }

        // The mean over the cell behind holds half of the jump.
        int last = areMeans ? to + 1 : to;
        double jumpW = cells[Math.Min(last + 1, cells.Length - 1)].MiddleW - cells[to].MinW;
        if (surprise < LeastOfMove || (before.Rows > 1 && rows < TimesAsLong * before.Rows) || enteredW is not (> 0.3 and < 1.7)
            || Math.Abs(jumpW) < 4 * before.StepW)
        {
            return false;
        }

        // A later move that leads on from the jump, in no more time than was lost.
        if (Move.After(cells, last, out var after) && after.Sign != 0 && after.Sign == Math.Sign(jumpW)
            && (after.Rows == 1 || rows >= TimesAsLong * after.Rows / 2))
        {
            double mostW = rows * ((after.StepW / after.Rows) + (after.Sign == before.Sign ? before.StepW / before.Rows : 0));
            return Math.Abs(jumpW) / mostW is > 0.2 and < 2.5;
        }

        // Low in a fall, a full device's level is reached as smoothly, and left in a drop when the device is taken off.
        return cells[from].MinW > Halfway * keptUpW && before.Sign < 0 && surprise > LeastSurprise && jumpW < -0.1 * cells[to].MinW;
    }

    private static bool CaughtUp(ReadingCell[] cells, int last)
    {
        if (last + 1 + Scatter.Rows > cells.Length)
        {
            return false;
        }

        double stuckW = cells[last].MaxW;
        var after = cells.AsSpan(last + 1, Scatter.Rows).ToArray();
        return after[0].MiddleW < CaughtUpTo * stuckW && after.All(c => c.MiddleW > CaughtUpFrom * stuckW)
            && after.Select(c => c.MiddleW).Distinct().Take(3).Count() == 3;
    }

    private static long Readings(ReadingCell[] cells, int from, int to)
    {
        long readings = 0;
        for (int i = from; i <= to; i++)
        {
            readings += cells[i].Readings;
        }

        return readings;
    }
}
