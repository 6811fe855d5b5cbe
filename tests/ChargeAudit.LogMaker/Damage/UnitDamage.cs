using ChargeAudit.LogMaker.Meters;
using static ChargeAudit.LogMaker.Damage.ReadingDamage;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>Units that change in the middle of a charge.</summary>
internal static class UnitDamage
{
    public static IEnumerable<DamageKind> All =>
    [
        Power("W to mW", 1000),
        Power("W to kW", 0.001),
        Power("ten times", 10),
        Power("a hundred times", 100),
        Power("a tenth", 0.1),
        Power("a hundredth", 0.01),
        new("a unit that changes", "A to mA, current only", l => Charges(l)
            && l.HasCurrent, (log, dice) => From(log, Place(log, dice), r => r with { Current = 1000 * r.Current })),
        new("a unit that changes", "V to mV, voltage only", l => Charges(l)
            && l.HasCurrent, (log, dice) => From(log, Place(log, dice), r => r with { Voltage = 1000 * r.Voltage })),
        new("a unit that changes", "mA to A, current only", l => Charges(l)
            && l.HasCurrent, (log, dice) => From(log, Place(log, dice), r => r with { Current = 0.001 * r.Current })) { Finer = 1000 },
        new("a unit that changes", "A to cA, current only", l => Charges(l)
            && l.HasCurrent, (log, dice) => From(log, Place(log, dice), r => r with { Current = 100 * r.Current })),
        new("a unit that changes", "for some minutes in the middle", l => Charges(l) && !l.HasCurrent
            && l.LastOfPlateau - l.FirstOfCharge > 60, (log, dice) =>
        {
            int from = log.FirstOfCharge + (int)(dice.Between(0.1, 0.5) * (log.LastOfPlateau - log.FirstOfCharge));
            int to = from + ((log.LastOfPlateau - log.FirstOfCharge) / 4);
            double factor = dice.Of(10.0, 100, 1000);
            return Shows(log, from, factor) && Shows(log, to, factor)
                ? Changed(log, Enumerable.Range(from, to - from), (l, r) => l.With(r, factor * l.PowerW(r)))
                : [];
        }),
        new("not to be told from a sound log", "a unit that changes by ten, early, where the load moves or by few readings",
            l => Charges(l) && !l.HasCurrent, (log, dice) => Place(log, dice) is var at && dice.Of(10, 0.1) is var factor
                && !Shows(log, at, factor)
                ? log.Rows.Select((r, i) => i < at ? r : log.With(r, factor * log.PowerW(r)))
                : []),
    ];

    private const int LeastRows = 3;
    private const int LeastReadings = 6;
    private const double MostMove = 0.02;

    // A charge that is in the other unit from its start is a charge of another size. And a meter that prints four digits shows the same as
    // a unit ten times smaller does where the load itself moves; the digits of few different readings say nothing.
    private static bool Shows(SoundLog log, int row, double factor) => row >= log.FirstOfCharge + LeastRows
        && (factor is not (10 or 0.1) || log.HasCurrent
            || (Math.Abs((log.PowerW(log.Rows[row]) / log.PowerW(log.Rows[row - 1])) - 1) < MostMove
            && log.Rows.Take(row).Select(log.PowerW).Distinct().Count() >= LeastReadings));

    private static DamageKind Power(string name, double factor) =>
        new("a unit that changes", "power, " + name, l => Charges(l) && !l.HasCurrent, (log, dice) =>
            Place(log, dice) is var at && Shows(log, at, factor) ? From(log, at, r => log.With(r, factor * log.PowerW(r))) : [])
        { Finer = factor < 1 ? 1000 : 1 };

    private static int Place(SoundLog log, Dice dice) =>
        log.FirstOfCharge + (int)(dice.Between(0.1, 0.95) * (log.LastOfPlateau - log.FirstOfCharge));

    private static IEnumerable<LogRow> From(SoundLog log, int row, Func<LogRow, LogRow> change) =>
        row < log.FirstOfCharge + LeastRows ? [] : log.Rows.Select((r, i) => i < row ? r : change(r));
}
