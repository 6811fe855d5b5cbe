using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>Readings that were never measured so.</summary>
internal static class ReadingDamage
{
    public static IEnumerable<DamageKind> All =>
    [
        new("one absurd reading", "1, 3 or 9 kW, or 90 A", Charges, (log, dice) =>
            log.HasCurrent ? Changed(log, [InCharge(log, dice)], (_, r) => log.With(r, 90 * r.Voltage))
                : Changed(log, [InCharge(log, dice)], Of(dice.Of<double>(1000, 3000, 9000)))),
        new("one absurd reading", "5 to 100 times the greatest", Charges,
            (log, dice) => Changed(log, [InCharge(log, dice)], Of(log.GreatestW * dice.Scale(5, 100)))),
        new("one absurd reading", "2 to 5 times the greatest", Charges,
            (log, dice) => Changed(log, [InCharge(log, dice)], Of(log.GreatestW * dice.Scale(2, 5)))),
        new("one absurd reading", "in the waiting part", l => Charges(l) && l.FirstOfCharge > 6,
            (log, dice) => Changed(log, [dice.Whole(1, log.FirstOfCharge - 4)], Of(log.GreatestW * dice.Scale(3, 300)))),
        new("several absurd readings", "three to ten, each alone", l => Charges(l)
            && l.LastOfCharge - l.FirstOfCharge > 120, (log, dice) =>
            Changed(log, [.. Enumerable.Range(0, dice.Whole(3, 10)).Select(_ => InCharge(log, dice))],
            Of(log.GreatestW * dice.Scale(3, 50)))),
        new("several absurd readings", "two or three in a row", l => Charges(l) && l.LastOfCharge - l.FirstOfCharge > 120,
            (log, dice) => Changed(log, Some(InCharge(log, dice), dice.Whole(2, 3)), Of(log.GreatestW * dice.Scale(5, 50)))),
        Sticking("a stuck sensor", "for 30 min of the plateau", true, Plateau),
        Sticking("a stuck sensor", "for 30 min into the fall", true, IntoTheFall),
        Sticking("a stuck sensor", "at a value in the fall, to the end of the charge", true, InTheFall),
        Sticking("not to be told from a sound log", "a stuck sensor where readings stay equal by themselves, or a coarse meter's", false,
            IntoTheFall),
        new("zeros", "for 5 min, voltage kept", l => Charges(l) && !IdleIsZero(l)
            && Rows(l, 300) < l.LastOfPlateau - l.FirstOfCharge - 10, (log, dice) => Changed(log, FiveMinutes(log, dice), Of(0))),
        new("zeros", "for 5 min, voltage as well", l => Charges(l) && l.HasCurrent && Rows(l, 300) < l.LastOfPlateau - l.FirstOfCharge - 10,
            (log, dice) => Changed(log, FiveMinutes(log, dice), (l, r) => l.With(r, 0) with { Voltage = 0 })),
        new("zeros", "one row to three", l => Charges(l) && !IdleIsZero(l)
            && l.LastOfPlateau - l.FirstOfCharge > 20, (log, dice) =>
            Changed(log, Some(log.FirstOfCharge + 5 + (int)(dice.Unit() * (log.LastOfPlateau - log.FirstOfCharge - 12)), dice.Whole(1, 3)),
            Of(0))),
        new("readings cut at the end of the range", "at 50 to 98 % of the greatest", l => Sticks(l)
            && Scatters(l), (log, dice) => dice.Between(0.5, 0.98) is var share && Cut(log, share) >= LeastCut ? Clipped(log, share) : []),
        new("not to be told from a sound log", "zeros for 5 min, where an idle charger reads 0 or nearly so", l => Charges(l)
            && IdleIsZero(l) && Rows(l, 300) < l.LastOfPlateau - l.FirstOfCharge - 10,
            (log, dice) => Changed(log, FiveMinutes(log, dice), Of(0))),
        new("not to be told from a sound log", "readings cut, by a meter without scatter or on change, or few", l => Charges(l),
            (log, dice) =>
            dice.Between(0.5, 0.98) is var share && !(Sticks(log) && Scatters(log) && Cut(log, share) >= LeastCut)
                ? Clipped(log, share)
                : []),
    ];

    internal static bool Charges(SoundLog log) => log.HasCharge && log.HasReadings && log.LastOfPlateau > log.FirstOfCharge;

    private static (int From, int Rows)? Plateau(SoundLog log, Dice dice) => Rows(log, 1800) is var rows
        && rows < log.LastOfPlateau - log.FirstOfCharge - 2
        ? (log.FirstOfCharge + 1 + (int)(dice.Unit() * (log.LastOfPlateau - log.FirstOfCharge - rows - 1)), rows) : null;

    private static (int From, int Rows)? IntoTheFall(SoundLog log, Dice dice) => Rows(log, 1800) is var rows
        && rows < log.LastOfCharge - log.FirstOfCharge
        ? (log.LastOfPlateau - (int)(dice.Unit() * 0.3 * rows), rows) : null;

    private static (int From, int Rows)? InTheFall(SoundLog log, Dice dice) => log.LastOfCharge - log.LastOfPlateau > 8
        && Fallen(log, dice) is var from && log.LastOfCharge - from > 2
        ? (from, log.LastOfCharge - from) : null;

    // Whether a stuck sensor can show: readings vary, in steps finer than a fiftieth of them, seldom staying the same by themselves, and
    // the last one moved as those before it did. A sensor that stops just where the load jumped shows a new level.
    private static DamageKind Sticking(string family, string name, bool lives, Func<SoundLog, Dice, (int From, int Rows)?> where) => new(
        family, name,
        l => Sticks(l) && where(l, new Dice(1)) is not null,
        (log, dice) => where(log, dice) is var (from, rows) && Lives(log, from, rows) == lives ? Stuck(log, from, rows) : []);

    private static bool Lives(SoundLog log, int from, int rows) => log.Meter.PowerStep < 0.02 * log.PowerW(log.Rows[from])
        && log.Rows.Take(from + 1).TakeLast(10).Select(log.PowerW).Distinct().Count() > 4 && LongestStay(log) < rows / 3.0
        && Equal(log) < 0.25 && Step(log, from) is > 0 and var last
        && last <= 4 * Enumerable.Range(from - 8, 8).Where(i => i > 0).Select(i => Step(log, i)).Order().ElementAt(4);

    private static double Step(SoundLog log, int row) => Math.Abs(log.PowerW(log.Rows[row]) - log.PowerW(log.Rows[row - 1]));

    // Share of rows of the charge whose reading is that of the row before.
    private static double Equal(SoundLog log) =>
        Enumerable.Range(log.FirstOfCharge + 1, log.LastOfCharge - log.FirstOfCharge).Average(i => Step(log, i) == 0 ? 1.0 : 0);

    // Greatest number of successive rows of the charge with the same reading.
    private static int LongestStay(SoundLog log)
    {
        int longest = 1, stay = 1;
        for (int i = log.FirstOfCharge + 1; i <= log.LastOfCharge; i++)
        {
            stay = log.PowerW(log.Rows[i]) == log.PowerW(log.Rows[i - 1]) ? stay + 1 : 1;
            longest = Math.Max(longest, stay);
        }

        return longest;
    }

    private const int LeastCut = 15;

    // Greatest number of successive rows above the end of the range.
    private static int Cut(SoundLog log, double share)
    {
        double limit = share * (log.HasCurrent ? log.Rows.Max(r => r.Current) : log.GreatestW);
        int longest = 0, rows = 0;
        foreach (LogRow row in log.Rows)
        {
            rows = (log.HasCurrent ? row.Current : row.PowerW) >= limit ? rows + 1 : 0;
            longest = Math.Max(longest, rows);
        }

        return longest;
    }

    // A log that is written on change has no rows of a stuck sensor.
    private static bool Sticks(SoundLog log) => Charges(log) && log.Meter.Kind != RowKind.OnChange;

    // Whether zeros cannot be told from a pause: this meter reads nothing where the charger is idle.
    // Or so near that a pause which takes a little less is rounded to zero.
    private static bool IdleIsZero(SoundLog log)
    {
        LogRow[] idle = [.. log.Rows.Take(log.FirstOfCharge - 1).Skip(1).Concat(log.Rows.Skip(log.LastOfCharge + 2))];
        double[] powers = [.. idle.Select(r => Math.Abs(log.PowerW(r))).Order()];
        double stepW = log.HasCurrent ? log.Meter.CurrentStep * idle.Select(r => r.Voltage).DefaultIfEmpty(0).Max() : log.Meter.PowerStep;
        return powers.Length == 0 || powers[0] == 0 || powers[powers.Length / 4] <= 2.001 * stepW;
    }

    // Whether readings scatter so that equal ones stand out: the meter's noise is not lost in its step.
    private static bool Scatters(SoundLog log) => log.HasCurrent
        ? log.Meter.CurrentNoise >= log.Meter.CurrentStep
        : log.Meter.PowerNoise >= log.Meter.PowerStep;

    internal static int Rows(SoundLog log, double seconds) =>
        Math.Max(2, (int)(seconds / (log.Meter.Kind == RowKind.OnChange ? 600 : log.Meter.IntervalS)));

    internal static int InCharge(SoundLog log, Dice dice) =>
        log.FirstOfCharge + (int)(dice.Unit() * (log.LastOfCharge - log.FirstOfCharge));

    internal static IEnumerable<LogRow> Changed(SoundLog log, IEnumerable<int> rows, Func<SoundLog, LogRow, LogRow> change)
    {
        HashSet<int> these = [.. rows];
        return log.Rows.Select((r, i) => these.Contains(i) ? change(log, r) : r);
    }

    private static int Fallen(SoundLog log, Dice dice) =>
        log.LastOfPlateau + (int)(dice.Between(0.2, 0.7) * (log.LastOfCharge - log.LastOfPlateau));

    private static Func<SoundLog, LogRow, LogRow> Of(double powerW) => (log, row) => log.With(row, powerW);

    private static IEnumerable<int> Some(int from, int count) => Enumerable.Range(from, count);

    private static IEnumerable<int> FiveMinutes(SoundLog log, Dice dice) =>
        Some(log.FirstOfCharge + 5 + (int)(dice.Unit() * (log.LastOfPlateau - log.FirstOfCharge - 10 - Rows(log, 300))), Rows(log, 300));

    // The counter beside, and the clock, go on.
    private static IEnumerable<LogRow> Stuck(SoundLog log, int from, int rows) =>
        Changed(log, Some(from, rows), (l, r) => l.Rows[from] with { TimeS = r.TimeS, CounterWh = r.CounterWh });

    private static IEnumerable<LogRow> Clipped(SoundLog log, double share)
    {
        double most = share * log.GreatestW;
        double mostA = share * log.Rows.Max(r => r.Current);
        return log.Rows.Select(r => log.HasCurrent
            ? r with
            {
                Current = Math.Min(r.Current, mostA),
                PowerW = double.IsNaN(r.PowerW) ? r.PowerW : Math.Min(r.PowerW, r.Voltage * mostA),
            }
            : r with { PowerW = Math.Min(r.PowerW, most) });
    }
}
