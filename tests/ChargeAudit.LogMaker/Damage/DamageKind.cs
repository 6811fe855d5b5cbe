using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>A kind of damage that a log may have.</summary>
/// <param name="Family">Words for a row of the table.</param>
/// <param name="Name">Which of the family.</param>
/// <param name="Applies">Whether a log can have it.</param>
/// <param name="Rows">The rows of the log as they are with it.</param>
public sealed record DamageKind(string Family, string Name, Func<SoundLog, bool> Applies, Func<SoundLog, Dice, IEnumerable<LogRow>> Rows)
{
    /// <summary>How many times finer the damaged log prints its numbers, for units in which they are smaller. [1]</summary>
    public double Finer { get; init; } = 1;

    /// <summary>All kinds of damage.</summary>
    public static IReadOnlyList<DamageKind> All { get; } = [.. ReadingDamage.All, .. UnitDamage.All, .. TimeDamage.All,
        .. CounterDamage.All];

    /// <summary>The damaged log as a file; null where the place that the dice chose cannot have it.</summary>
    public string? Text(SoundLog log, Dice dice)
    {
        MeterSheet m = log.Meter;
        LogRow[] rows = [.. Rows(log, dice)];
        return rows.Length == 0 ? null : CsvText.Of(
            rows,
            m with
            {
                PowerStep = m.PowerStep / Finer,
                VoltageStep = m.VoltageStep / Finer,
                CurrentStep = m.CurrentStep / Finer,
                CounterStepWh = m.CounterStepWh / Finer,
            },
            null);
    }
}
