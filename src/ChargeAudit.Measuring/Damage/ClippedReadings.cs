using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Readings that pile up at the log's greatest value. Where the end of a range cuts readings that scatter, many rows share the greatest
/// value, far more than share any value just below it, and rows below it stand among them again and again; or, where power crosses the end
/// quickly, rows that scatter lie close on either side; or rows stay at it to the last digit in a log whose other readings scatter before
/// and after. A charger that holds its power leaves that value once and has no such rows before it; a coarse meter shows few values below
/// it; or rows stay at it to the last digit in a log that otherwise scatters wherever it does not move (<see cref="VisibleNoise"/>), or
/// whose readings stop there (<see cref="LiveReadings"/>): that may as well be a stuck sensor, but then, too, nothing is known about what
/// flowed. In a log of voltage and current the same goes for the current.
/// </summary>
internal static class ClippedReadings
{
    private const double Band = 0.05;
    private const int LeastAtEnd = 20;
    private const int LeastBelow = 20;
    private const int LeastValuesBelow = 8;
    private const int LeastReturns = 8;
    private const int TimesAsMany = 5;
    private const int LeastStay = 12;

    // Where readings were live up to there, as few as this suffice.
    private const int LeastLive = 3;
    private const int RowsOfScatter = 10;
    private const int LongestInterruption = 5;

    // Chance lets readings that are equal once in 1/q stay equal for n rows with q^n; e^-25 is next to never.
    private const double LeastSurprise = 25;

    // Of the greatest value: more is not scatter of a meter but pulses of a pad that waits.
    private const double MostScatter = 0.01;

    // Of the greatest value: readings below belong to no charge at full power.
    private const double OfAPlateau = 0.15;

    // So often readings leave the greatest value by one step, and this share as often by more.
    private const int LeastDithers = 3;
    private const double MostWider = 0.1;

    // Digits that a mean of equal readings keeps.
    private const int SameDigits = 9;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules, LogLayout layout)
    {
        if (rules.Samples == SampleKind.OnChange)
        {
            yield break;
        }

        double shiftS = StampShift.Of(rules);
        double end = Greatest(cells, rules);
        double stepW = LiveReadings.StepW(cells, rules, layout);
        var live = new LiveReadings(cells, rules, stepW, AbsurdReadings.KeptUpW(cells));
        if (Piled(cells, end, rules.Source == PowerSource.PowerColumn, live, stepW) is { } power)
        {
            yield return Mark(cells[power.First].FromS + shiftS, cells[power.Last].ToS + shiftS, Prose.Of($"{end:G5} W")) with
            {
                AboveW = Math.BitDecrement(end),
            };
        }
        else if (ReachesGreatestCurrent(cells, rules))
        {
            var currents = OfCurrents(cells);
            double endA = Greatest(currents, rules);
            if (Piled(currents, endA, false, null, layout.Resolution.GetValueOrDefault(LogQuantity.Current)) is { } current)
            {
                // Power scatters with the voltage there: what is marked is the stretch.
                double leastW = cells[current.First..(current.Last + 1)].Where((_, i) => currents[current.First + i].MaxW == endA)
                    .Min(c => c.MinW);
                yield return Mark(cells[current.First].FromS + shiftS, cells[current.Last].ToS + shiftS,
                    Prose.Of($"{endA:G5} A")) with
                { AboveW = Math.BitDecrement(leastW) };
            }
        }
    }

    /// <summary>The greatest reading that a charger can have. [W]</summary>
    public static double Greatest(ReadingCell[] cells, SummaryRules rules)
    {
        double greatest = double.NegativeInfinity;
        foreach (ref readonly var cell in cells.AsSpan())
        {
            greatest = cell.MaxW <= rules.ImplausibleAboveW && cell.MaxW > greatest ? cell.MaxW : greatest;
        }

        return double.IsNegativeInfinity(greatest) ? 0 : greatest;
    }

    private static MarkedStretch Mark(double fromS, double toS, string value) => new(
        fromS, toS, FaultKind.Clipped,
            $"readings pile up at {value}, the log's greatest, as at no value below: the meter's range was exceeded; they were kept, and "
            + "what flowed above them is not known")
    {
        Kept = true,
    };

    // Whether enough cells hold the greatest current that is plausible at all; that much is seen without another array of all cells.
    private static bool ReachesGreatestCurrent(ReadingCell[] cells, SummaryRules rules)
    {
        double most = 0;
        int at = 0;
        foreach (ref readonly var cell in cells.AsSpan())
        {
            double current = CurrentA(in cell);
            if (current > rules.ImplausibleAboveW)
            {
                continue;
            }

            at = current > most ? 1 : at + (current == most ? 1 : 0);
            most = Math.Max(most, current);
        }

        return most > 0 && at >= LeastStay;
    }

    /// <summary>The same cells with the current in place of the power, for rules that know but one value.</summary>
    public static ReadingCell[] OfCurrents(ReadingCell[] cells) => [.. cells.Select(OfCurrent)];

    // The mean of a cell stands for the current of its readings.
    private static ReadingCell OfCurrent(ReadingCell cell)
    {
        double current = CurrentA(in cell);
        return cell with { MinW = current, MaxW = current };
    }

    private static double CurrentA(in ReadingCell cell) => double.IsNaN(cell.MeanA) ? 0 : Math.Round(cell.MeanA, SameDigits);

    private static (int First, int Last)? Piled(ReadingCell[] cells, double end, bool isPrinted, LiveReadings? live, double step)
    {
        // In most logs few readings or one is the greatest, and nothing more needs to be looked at.
        if (!(end > 0) || cells.Count(c => c.MaxW == end || c.MinW == end) < LeastLive)
        {
            return null;
        }

        int first = Array.FindIndex(cells, c => c.MaxW == end);
        int last = Array.FindLastIndex(cells, c => c.MaxW == end);
        var below = new Dictionary<double, int>();
        int atEnd = 0, returns = 0, rowsBelow = 0;
        bool before = false;
        for (int i = 0; i < cells.Length; i++)
        {
            bool at = cells[i].MaxW == end;
            atEnd += at ? 1 : 0;
            returns += at && !before && i > first ? 1 : 0;
            before = at;
            if (!at && cells[i].MaxW > (1 - Band) * end)
            {
                rowsBelow++;
                below[cells[i].MaxW] = below.GetValueOrDefault(cells[i].MaxW) + 1;
            }
        }

        if (Dithers(cells, end, first, last, step))
        {
            return null;
        }

        bool returning = rowsBelow >= LeastBelow && below.Count >= LeastValuesBelow && returns >= LeastReturns
            && atEnd >= TimesAsMany * below.Values.Max();
        return (atEnd >= LeastAtEnd && (returning || Crosses(cells, end))) || Stays(cells, end, isPrinted, live) ? (first, last) : null;
    }

    // Whether readings leave the end by one step again and again, and by no more: a value between two steps, which the meter saw.
    private static bool Dithers(ReadingCell[] cells, double end, int first, int last, double step)
    {
        double oneStep = 1.5 * step;
        int byOne = 0, byMore = 0;
        for (int i = first; i < last;)
        {
            int from = i;
            double least = end;
            while (i < last && cells[i].MinW < end)
            {
                least = Math.Min(least, cells[i++].MinW);
            }

            bool isShort = i > from && i - from <= LongestInterruption;
            byOne += isShort && end - least < oneStep ? 1 : 0;
            byMore += isShort && end - least >= oneStep ? 1 : 0;
            i += i == from ? 1 : 0;
        }

        return byOne >= LeastDithers && byMore <= MostWider * byOne;
    }

    // Whether readings stay at the end to the last digit, though readings scatter somewhere before and somewhere after, or wherever they do
    // not move; or though they were live up to there.
    private static bool Stays(ReadingCell[] cells, double end, bool isPrinted, LiveReadings? live)
    {
        int from = 0, longest = 0, at = 0;
        for (int i = 0; i < cells.Length; i++)
        {
            from = cells[i].MinW != end ? i + 1 : from;
            (longest, at) = i + 1 - from > longest ? (i + 1 - from, from) : (longest, at);
        }

        if (longest == 0)
        {
            return false;
        }

        if (LiveReadings.OthersStay(cells, at, at + longest - 1, OfAPlateau * end, false))
        {
            return false;
        }

        bool amongScatter = longest >= LeastStay && ScattersIn(cells, 0, at, end, out double before)
            && ScattersIn(cells, at + longest, cells.Length, end, out double after)
            && longest * Math.Log(1 / Math.Max(before, after)) > LeastSurprise;
        return amongScatter || (longest >= LeastStay && VisibleNoise.Denies(cells, at, at + longest - 1, isPrinted))
            || live?.StopIn(at, at + longest - 1) == true;
    }

    // Every stretch of some readings apart; the least share of equal neighbours where one scatters.
    private static bool ScattersIn(ReadingCell[] cells, int from, int to, double end, out double equalShare)
    {
        for (int i = from; i + RowsOfScatter <= to; i += RowsOfScatter)
        {
            if (Scatter.UsualStepW(cells, i, i + RowsOfScatter) <= MostScatter * end
                && Scatter.Shows(cells, i, i + RowsOfScatter, null, 0, out equalShare))
            {
                equalShare = Math.Max(0.05, equalShare);
                return true;
            }
        }

        equalShare = 1;
        return false;
    }

    // Whether somewhere readings close to the end scatter, then stay at it, then scatter close to it again.
    private static bool Crosses(ReadingCell[] cells, double end)
    {
        for (int from = 0; from < cells.Length; from++)
        {
            if (cells[from].MinW != end)
            {
                continue;
            }

            int to = from;
            int atEnd = 1;
            for (int i = from + 1; i < cells.Length && i - to <= LongestInterruption; i++)
            {
                if (cells[i].MinW == end)
                {
                    to = i;
                    atEnd++;
                }
            }

            if (atEnd >= LeastAtEnd && Scatter.Shows(cells, from - Scatter.Rows, from, end, Band, out _)
                && Scatter.Shows(cells, to + 1, to + 1 + Scatter.Rows, end, Band, out _))
            {
                return true;
            }

            from = to;
        }

        return false;
    }
}
