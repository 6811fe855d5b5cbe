using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>Times that are wrong, and rows that are there twice.</summary>
internal static class TimeDamage
{
    public static IEnumerable<DamageKind> All =>
    [
        new("a clock that is set", "an hour ahead in the charge", InACharge, (log, dice) => Moved(log, Middle(log, dice), 3600)),
        new("a clock that is set", "an hour back in the charge", InACharge, (log, dice) => Moved(log, Middle(log, dice), -3600)),
        new("a clock that is set", "minutes ahead or back", InACharge,
            (log, dice) => Moved(log, Middle(log, dice), dice.Of(-1.0, 1) * Math.Max(dice.Scale(60, 1500), 7 * log.Meter.IntervalS))),
        new("a time stamp that stands still", "for 20 rows to 5 min", InACharge,
            (log, dice) =>
            Frozen(log, Middle(log, dice),
            Math.Min(Math.Max(20, (int)(300 / log.Meter.IntervalS)), (log.LastOfCharge - log.FirstOfCharge) / 3), false)),
        new("a time stamp that stands still", "and goes on from there", l => InACharge(l)
            && l.Rows.Count > 120, (log, dice) =>
            Frozen(log, Middle(log, dice),
            Math.Min(Math.Max(20, (int)(300 / log.Meter.IntervalS)), (log.LastOfCharge - log.FirstOfCharge) / 3), true)),
        new("rows that are there twice", "a block, at once", Long,
            (log, dice) => Block(log, dice, (before, block, after) => [.. before, .. block, .. block, .. after])),
        new("rows that are there twice", "a block, with stamps a little later", Long,
            (log, dice) =>
            Block(log, dice,
            (before, block, after) =>
            [.. before, .. block, .. block.Select(r => r with { TimeS = Math.Round(r.TimeS + (0.3 * log.Meter.IntervalS), 3) }),
            .. after])),
        new("rows that are there twice", "a block, with stamps that go on", Long, (log, dice) => Block(log, dice, (before, block, after) =>
        {
            double later = block[^1].TimeS - block[0].TimeS + log.Meter.IntervalS;
            return [.. before, .. block, .. block.Select(r => r with { TimeS = Math.Round(r.TimeS + later, 3) }), .. after];
        })),
        new("rows that are there twice", "a block, at the end of the log", Long,
            (log, dice) => Block(log, dice, (before, block, after) => [.. before, .. block, .. after, .. block])),
        new("rows that are there twice", "a block, shuffled", Long,
            (log, dice) => Block(log, dice, (before, block, after) => [.. before, .. block, .. Shuffled(block, dice), .. after])),
        new("rows that are there twice", "each row", InACharge, (log, _) => log.Rows.SelectMany(r => new[] { r, r })),
        new("rows that are there twice", "the whole log, shuffled", InACharge, (log, dice) => Shuffled([.. log.Rows, .. log.Rows], dice)),
        new("rows that are there twice", "the whole log, one after the other", Long, (log, _) => [.. log.Rows, .. log.Rows]),
    ];

    private static bool InACharge(SoundLog log) => log.HasCharge && log.LastOfCharge - log.FirstOfCharge > 12;

    private static bool Long(SoundLog log) => log.HasCharge && log.LastOfCharge - log.FirstOfCharge > 100;

    private static int Middle(SoundLog log, Dice dice) =>
        log.FirstOfCharge + (int)(dice.Between(0.1, 0.6) * (log.LastOfCharge - log.FirstOfCharge));

    private static IEnumerable<LogRow> Moved(SoundLog log, int row, double byS) => log.Rows.Select((r, i) => i < row ? r : r with
    {
        TimeS = Math.Round(r.TimeS + byS, 3),
    });

    private static IEnumerable<LogRow> Frozen(SoundLog log, int from, int rows, bool goesOn) => log.Rows.Select((r, i) =>
        i < from ? r : i < from + rows ? r with { TimeS = log.Rows[from].TimeS } : goesOn
            ? r with { TimeS = Math.Round(r.TimeS - log.Rows[from + rows - 1].TimeS + log.Rows[from].TimeS, 3) }
            : r);

    private static IEnumerable<LogRow> Block(SoundLog log, Dice dice,
        Func<IReadOnlyList<LogRow>, IReadOnlyList<LogRow>, IReadOnlyList<LogRow>, IEnumerable<LogRow>> put)
    {
        int charge = log.LastOfCharge - log.FirstOfCharge;
        int from = log.FirstOfCharge + (int)(dice.Between(0.05, 0.5) * charge);
        int rows = Math.Max(33, (int)(dice.Between(0.1, 0.4) * charge));
        LogRow[] all = [.. log.Rows];
        return put(all[..from], all[from..(from + rows)], all[(from + rows)..]);
    }

    private static LogRow[] Shuffled(IReadOnlyList<LogRow> rows, Dice dice) =>
        [.. rows.Select(r => (Row: r, At: dice.Unit())).OrderBy(r => r.At).Select(r => r.Row)];
}
