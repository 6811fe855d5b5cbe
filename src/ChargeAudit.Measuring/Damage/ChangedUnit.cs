using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A unit that changes in the middle of a log: from one row to the next a value is about a power of ten of what it was. Where it is steady
/// and so within 8 % on both sides, a thousand times, or a hundred times and above 100 W, is not a charger's, nor is a thousandth.
/// Otherwise a charge may do as much when it begins or ends, and something must bear it out: the counter, whose advance by the readings'
/// energy changes as much; voltage and current beside the power; or the digits and the scatter of the readings, which change with the unit
/// and not with the load: the point moves in a number that stays the same, or readings within 2 % of a power of ten all lose or gain as
/// many digits.
/// </summary>
internal static class ChangedUnit
{
    private const int Rows = 5;
    private const double Closeness = 1.08;

    // Where digits near by tell: a meter that changes its range changes them as well, but not at such a jump.
    private const double DigitsCloseness = 1.02;
    private const double Exactness = 1.003;

    // Where digits or the counter tell, power may have changed as well in that row.
    private const double Looseness = 1.5;

    /// <summary>Steps of itself that a counter beside must have moved by on either side.</summary>
    public const double LeastSteps = 8;

    // And this share of its whole advance.
    private const double LeastShare = 0.05;
    private const double NoChargerW = 100;
    private const int LeastOfSize = 2;
    private const int SizesOfAFall = 4;
    private const double LeastProductW = 0.3;
    private const double ProductCloseness = 1.25;
    private const double LeastW = 1;

    // Where digits or scatter tell: a charge that is held at a limit.
    private const double LeastShownW = 0.05;

    // A hundred or a thousand times is seen in a pause as well.
    private const double LeastFarW = 1e-4;

    // A pause takes as little as a thousandth, but then the charge goes on, above this share of what it was.
    private const double NoPause = 0.1;

    // Levels known to no better than this are not called equal to a power of ten. [1]
    private const double LeastTolerance = 0.004;

    // What the middle one of five readings is off by, of their spread. [1]
    private const double SpreadOfMiddle = 0.25;

    /// <summary>Time at which the unit changes, and in words what became of which quantity; null where none does.</summary>
    public static (double TimeS, string What)? Find(ReadingCell[] cells, SummaryRules rules, CounterBeside? counter)
    {
        var digits = new Lazy<Digits>(() => new Digits(cells, rules));
        var both = counter is null ? null : new CounterAndReadings(counter, cells);
        return OfPower(cells, digits, both, rules.Source == PowerSource.PowerColumn) ?? OfProduct(cells, rules)
            ?? (UnitForAWhile.Find(cells, digits, both) is var (timeS, power)
                ? (timeS, $"power is {Times(power)} what it was in the row before, until as large a step leads back")
                : null);
    }

    private static (double TimeS, string What)? OfPower(ReadingCell[] cells, Lazy<Digits> digits, CounterAndReadings? counter,
        bool isPrinted)
    {
        for (int i = 1; i + 1 < cells.Length; i++)
        {
            // In a long log the cell between holds rows of both units.
            for (int first = i; first <= i + 1; first++)
            {
                double ratio = cells[first].MiddleW / cells[i - 1].MiddleW;
                if (ratio is > 0.15 and < 7 || PowerOfTen.Near(ratio, Looseness) is not (not 0 and var power))
                {
                    continue;
                }

                // Of three columns that agree as before, none changed its unit alone.
                if (Math.Abs(power) == 1 && isPrinted && IsProduct(in cells[i - 1]) && IsProduct(in cells[first]))
                {
                    continue;
                }

                if (IsSure(cells, i, first, power, PowerOfTen.Near(ratio, Closeness) != 0, digits.Value, counter))
                {
                    bool stillBefore = first > i && PowerOfTen.Near(cells[i].MiddleW / cells[i - 1].MiddleW, Looseness) == 0
                        && cells[i].MaxW < 2 * cells[i - 1].MaxW && cells[i].MinW > 0.5 * cells[i - 1].MinW;
                    return (cells[stillBefore ? first : i].FromS, $"power is {Times(power)} what it was in the row before, and stays so");
                }
            }
        }

        return null;
    }

    private static bool IsSure(ReadingCell[] cells, int i, int first, int power, bool isClose, Digits digits,
        CounterAndReadings? counter)
    {
        double mostW = Math.Max(cells[i - 1].MiddleW, cells[first].MiddleW);
        if (mostW < (Math.Abs(power) > 1 ? LeastFarW : LeastShownW))
        {
            return false;
        }

        if (counter is not null && CounterSays(cells, cells[i].FromS, counter) is { } says)
        {
            // Near the meter's zero the counter leaves in doubt by how much the unit changed; that it did not change is certain even there.
            bool changed = Math.Abs(says - power) < 0.25 && (power > 0 ? cells[i - 1].MiddleW > LeastW : cells[first].MiddleW > 0);
            if (changed || Math.Abs(says) < 0.3)
            {
                return changed;
            }
        }

        double middle = Middle(cells, first, 1) / Middle(cells, i - 1, -1);
        double single = cells[first].MiddleW / cells[i - 1].MiddleW;
        bool IsWithin(double closeness) => PowerOfTen.Near(single, closeness) == power || PowerOfTen.Near(middle, closeness) == power;
        bool isTight = IsWithin(DigitsCloseness), isVeryClose = Math.Abs(power) > 1 ? IsWithin(Closeness) : isTight;
        bool isExact = PowerOfTen.Near(middle, Exactness) == power;

        // Of a meter that prints four digits whatever the size, chance lets few readings be as close to a power of ten.
        // But the end of a charge leaves a level, and no charge that goes on to fall.
        var ofNoSize = new Lazy<bool>(() => digits.FollowNoSize(i, first, power) || (power < -1 && Moves(cells, first)));
        if (isVeryClose && (digits.PointMoves(i, first, power) || digits.ChangeNear(i, first, power, isExact))
            && (isTight || ofNoSize.Value))
        {
            return true;
        }

        // Readings of one size on both sides tell even next to a pause.
        if (isTight && mostW >= LeastShownW && digits.ChangeBy(i, first, power) && ofNoSize.Value)
        {
            return true;
        }

        // The very same number a hundred or a thousand times smaller, and from there on digits that none had before.
        if (power < -1 && Math.Abs((single / Math.Pow(10, power)) - 1) < 1e-9 && digits.ChangeBy(i, first, power))
        {
            return true;
        }

        // A pause or the end of the charge may follow soon.
        bool isNoPulse = IsNoPulse(cells, i - 1, -1) && (IsNoPulse(cells, first, 1) || (isVeryClose && IsNext(cells, first)));
        if (mostW >= LeastW && isNoPulse && digits.ChangeBy(i, first, power) && (isTight || ofNoSize.Value))
        {
            return true;
        }

        if (!isClose || !Level(cells, i - Rows, out double before, out double spreadBefore)
            || !Level(cells, first, out double after, out double spreadAfter) || PowerOfTen.Near(after / before, Closeness) != power)
        {
            return false;
        }

        double spread = spreadBefore + spreadAfter;
        if (spread < 2 * (Closeness - 1)
            && (power == -3
                ? before > LeastW && cells.Skip(first).All(c => c.MaxW <= NoPause * before)
                : power >= 2 && after > NoChargerW && (power == 3 || before > LeastW)))
        {
            return true;
        }

        bool tight = spread < 2 * (Closeness - 1)
            && Math.Abs(Math.Log(after / before) - (power * Math.Log(10))) < LeastTolerance + (SpreadOfMiddle * spread);
        return tight && before > (power == 1 ? LeastW : LeastShownW) && power is 1 or <= -2 && digits.ScatterChangesBy(i, first, power);
    }

    // Power by voltage times current on direct current, where both are there and no longer small.
    private static bool IsProduct(in ReadingCell cell) => cell.MeanV * cell.MeanA > LeastProductW
        && cell.MeanW / (cell.MeanV * cell.MeanA) is > 1 / ProductCloseness and < ProductCloseness;

    // Whether the readings from a place on go through several powers of two.
    private static bool Moves(ReadingCell[] cells, int from)
    {
        double[] sizes = [.. cells.Skip(from).Where(c => c.MiddleW > 0).Select(c => Math.Floor(Math.Log2(c.MiddleW))).GroupBy(s => s)
            .Where(g => g.Count() >= LeastOfSize).Select(g => g.Key)];
        return sizes.Length >= SizesOfAFall;
    }

    // Whether a reading is like the middle one of those on its side, and no pulse.
    private static bool IsNoPulse(ReadingCell[] cells, int at, int direction)
    {
        double ratio = cells[at].MiddleW / Middle(cells, at, direction);
        return ratio is > 1 / Looseness and < Looseness;
    }

    // Whether the next reading is like it.
    private static bool IsNext(ReadingCell[] cells, int at) =>
        at + 1 < cells.Length && cells[at + 1].MiddleW / cells[at].MiddleW is > 1 / DigitsCloseness and < DigitsCloseness;

    private static double Middle(ReadingCell[] cells, int at, int direction) => HighMedian.Of(Enumerable.Range(0, Rows)
        .Select(k => at + (direction * k)).Where(k => k >= 0 && k < cells.Length).Select(k => cells[k].MiddleW).ToArray());

    // By how many powers of ten the readings' energy for the counter's advance differs after a time from before it; null where the counter
    // moved too little.
    private static double? CounterSays(ReadingCell[] cells, double timeS, CounterAndReadings counter)
    {
        double startS = cells[0].FromS, endS = cells[^1].ToS;
        double before = counter.AdvanceJ(startS, timeS), after = counter.AdvanceJ(timeS, endS);
        if (Math.Min(before, after) < Math.Max(LeastSteps * counter.StepJ, LeastShare * (before + after)))
        {
            return null;
        }

        return Math.Log10(counter.ReadJ(timeS, endS) / after / (counter.ReadJ(startS, timeS) / before));
    }

    // Power by voltage times current: it is a power factor on the mains, and about one on direct current.
    private static (double TimeS, string What)? OfProduct(ReadingCell[] cells, SummaryRules rules)
    {
        if (rules.Source != PowerSource.PowerColumn)
        {
            return null;
        }

        double[] by = [
            .. cells.Select(c => c.MeanW > 0 && c.MeanV > 0 && c.MeanA > 0 ? Math.Log10(c.MeanW / (c.MeanV * c.MeanA)) : double.NaN)];
        for (int i = Rows; i + 1 + Rows < cells.Length; i++)
        {
            if (!(Math.Abs(by[i + 1] - by[i - 1]) > 0.8) || cells[i - 1].MeanW < LeastW || cells[i + 1].MeanW < LeastW)
            {
                continue;
            }

            double before = by.AsSpan(i - Rows, Rows).ToArray().Order().ElementAt(Rows / 2);
            double after = by.AsSpan(i + 1, Rows).ToArray().Order().ElementAt(Rows / 2);
            double power = Math.Round(after - before);
            if (power != 0 && Math.Abs(power) <= 6 && Math.Abs(after - before - power) < 0.06)
            {
                // The mean over a cell between an old and a new reading is neither.
                int at = i;
                while (at < i + 2 && !(Math.Abs(by[at] - before) > 0.1))
                {
                    at++;
                }

                at += at + 1 < cells.Length && Math.Abs(by[at] - after) > 0.06 ? 1 : 0;
                return (cells[at].FromS,
                    $"power by voltage times current is {Times((int)power)} what it was in the row before, and stays so");
            }
        }

        return null;
    }

    private static string Times(int power) => power switch
    {
        1 => "ten times",
        2 => "a hundred times",
        3 => "a thousand times",
        -1 => "a tenth of",
        -2 => "a hundredth of",
        -3 => "a thousandth of",
        _ => InvariantText.Of($"10^{power} times"),
    };

    private static bool Level(ReadingCell[] cells, int from, out double middle, out double spread)
    {
        (middle, spread) = (0, 0);
        if (from < 0 || from + Rows > cells.Length)
        {
            return false;
        }

        double least = double.PositiveInfinity, most = double.NegativeInfinity;
        Span<double> middles = stackalloc double[Rows];
        for (int i = 0; i < Rows; i++)
        {
            least = Math.Min(least, cells[from + i].MinW);
            most = Math.Max(most, cells[from + i].MaxW);
            middles[i] = cells[from + i].MiddleW;
        }

        middles.Sort();
        middle = middles[Rows / 2];
        spread = (most - least) / middle;
        return least > 0;
    }
}
