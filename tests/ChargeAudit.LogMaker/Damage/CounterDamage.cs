using ChargeAudit.LogMaker.Meters;
using static ChargeAudit.LogMaker.Damage.ReadingDamage;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>Counters that do not only rise.</summary>
internal static class CounterDamage
{
    public static IEnumerable<DamageKind> All =>
    [
        new("a counter's bad readings", "a dip", Counts, (log, dice) => Readings(log, [InCharge(log, dice)], -dice.Scale(0.003, 100))),
        new("a counter's bad readings", "fifteen small dips", l => Counts(l) && l.Rows.Count > 200, (log, dice) =>
            Readings(log, [.. Enumerable.Range(0, 15).Select(_ => dice.Whole(1, log.Rows.Count - 2))], -dice.Scale(0.003, 1))),
        new("a counter's bad readings", "a stray zero", Counts,
            (log, dice) => Changed(log, [InCharge(log, dice)], (_, r) => r with { CounterWh = 0 })),
        new("a counter's bad readings", "a reading too high", Counts,
            (log, dice) => Readings(log, [InCharge(log, dice)], dice.Scale(1, 1000))),
        new("a counter's bad readings", "the last or the first", Counts, (log, dice) =>
            Changed(log, [dice.Of(0, log.Rows.Count - 1)], (_, r) => r with { CounterWh = dice.Of(0.0, 65535, r.CounterWh * 10) })),
        new("a counter that begins again", "from 99.99", l => Counts(l)
            && l.Meter.CounterStepWh <= 0.01, (log, dice) => Rolling(log, dice, 100)),
        new("a counter that begins again", "from 65535 steps", l => Counts(l) && l.Rows.Max(r => r.CounterWh) - l.Rows[0].CounterWh < 60000
            * l.Meter.CounterStepWh, (log, dice) => Rolling(log, dice, 65536 * log.Meter.CounterStepWh)),
        new("a counter that begins again", "from 2^32 steps", Counts,
            (log, dice) => Rolling(log, dice, 4294967296 * log.Meter.CounterStepWh)),
        new("a counter that begins again", "after power was lost", Counts, (log, dice) => Reset(log, InCharge(log, dice), 0)),
        new("a counter that begins again", "at what it had stored", Counts,
            (log, dice) => Reset(log, InCharge(log, dice), dice.Between(0.3, 0.95))),
        new("a counter's unit changes", "Wh to mWh or kWh", l => Counts(l) && l.Rows[0].CounterWh >= 0, (log, dice) =>
        {
            int from = InCharge(log, dice);
            double factor = dice.Of(1000, 0.001);
            return log.Rows.Select((r, i) => i < from ? r : r with { CounterWh = factor * r.CounterWh });
        }) { Finer = 1000 },
        Still("a counter that stands still", "for a third of the charge, beside readings", l => l.HasReadings),
        Still("not to be told from a sound log", "a counter alone that stands still for a third of the charge", l => !l.HasReadings),
    ];

    // Alone, it may as well have been a pause.
    private static DamageKind Still(string family, string name, Func<SoundLog, bool> which) =>
        new(family, name, l => Counts(l) && which(l), (log, dice) =>
        {
            int from = log.FirstOfCharge + (int)(dice.Between(0.1, 0.5) * (log.LastOfCharge - log.FirstOfCharge));
            int to = from + ((log.LastOfCharge - log.FirstOfCharge) / 3);
            double lost = log.Rows[to].CounterWh - log.Rows[from].CounterWh;
            return log.Rows.Select((r, i) => i <= from ? r : i <= to ? r with { CounterWh = log.Rows[from].CounterWh } : r with
            {
                CounterWh = r.CounterWh - lost,
            });
        });

    private static bool Counts(SoundLog log) => log.HasCounter && log.HasCharge && log.LastOfCharge - log.FirstOfCharge > 12;

    private static IEnumerable<LogRow> Readings(SoundLog log, IEnumerable<int> rows, double byWh) =>
        Changed(log, rows, (l, r) => r with
        {
            CounterWh = Math.Round((r.CounterWh + byWh) / l.Meter.CounterStepWh) * l.Meter.CounterStepWh,
        });

    // The counter reaches its end somewhere in the charge.
    private static IEnumerable<LogRow> Rolling(SoundLog log, Dice dice, double endWh)
    {
        double step = log.Meter.CounterStepWh;
        double atWh = log.Rows[InCharge(log, dice)].CounterWh;
        double moved = Math.Round((endWh - atWh) / step) * step;
        return log.Rows.Select(r => r with { CounterWh = Math.Round(((r.CounterWh + moved) % endWh) / step) * step });
    }

    private static IEnumerable<LogRow> Reset(SoundLog log, int row, double storedShare)
    {
        double at = log.Rows[row].CounterWh;
        double step = log.Meter.CounterStepWh;
        double fall = at - (Math.Floor(storedShare * at / step) * step);
        return log.Rows.Select((r, i) => i < row ? r : r with { CounterWh = r.CounterWh - fall });
    }
}
