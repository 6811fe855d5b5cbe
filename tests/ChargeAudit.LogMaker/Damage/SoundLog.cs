using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>A log without damage, row by row, with the truth beside it.</summary>
/// <param name="Meter">The meter.</param>
/// <param name="Rows">Its rows; times are those of its clock.</param>
/// <param name="TrueWh">True energy over all that the rows stand for. [Wh]</param>
/// <param name="ChargeWh">True energy of the charge; NaN where there is none, or more than one. [Wh]</param>
/// <param name="FirstOfCharge">First row of the charge.</param>
/// <param name="LastOfPlateau">Last row before power falls.</param>
/// <param name="LastOfCharge">Last row of the charge.</param>
public sealed record SoundLog(MeterSheet Meter, IReadOnlyList<LogRow> Rows, double TrueWh, double ChargeWh, int FirstOfCharge,
    int LastOfPlateau, int LastOfCharge)
{
    /// <summary>Whether a device charges in it.</summary>
    public bool HasCharge => LastOfCharge > FirstOfCharge;

    /// <summary>Whether its rows hold power, or voltage and current.</summary>
    public bool HasReadings => Meter.Kind != RowKind.CounterOnly;

    /// <summary>Whether its rows hold voltage and current.</summary>
    public bool HasCurrent => Meter.OnDirectCurrent;

    /// <summary>Whether power comes from voltage and current alone.</summary>
    public bool IsProduct => HasCurrent && !Meter.WritesPower;

    /// <summary>Whether it holds an energy counter.</summary>
    public bool HasCounter => Meter.CounterStepWh > 0;

    /// <summary>Greatest reading of power. [W]</summary>
    public double GreatestW => Rows.Max(PowerW);

    /// <summary>The log of a course by a meter.</summary>
    /// <param name="course">What flows.</param>
    /// <param name="charge">From and to where the charge lasts, and where power begins to fall. [s]</param>
    /// <param name="meter">The meter.</param>
    /// <param name="dice">The dice.</param>
    public static SoundLog Of(Course course, (double FromS, double FallsS, double ToS) charge, MeterSheet meter, Dice dice)
    {
        IReadOnlyList<LogRow> rows = Logging.Of(course, meter, dice);
        double from = rows[0].TimeS - meter.AheadS - (meter.Kind == RowKind.AverageEnding ? meter.IntervalS : 0);
        double to = rows[^1].TimeS - meter.AheadS + (meter.Kind == RowKind.AverageStarting ? meter.IntervalS : 0);
        int Row(double timeS) => rows.TakeWhile(r => r.TimeS - meter.AheadS < timeS).Count();
        bool any = charge.ToS > charge.FromS;
        return new SoundLog(
            meter, rows, course.PowerW(meter.Place).Integral(from, to) / 3600,
            any ? course.PowerW(meter.Place).Integral(charge.FromS, charge.ToS) / 3600 : double.NaN,
            any ? Row(charge.FromS) + 1 : 0, any ? Row(charge.FallsS) - 1 : 0, any ? Math.Min(Row(charge.ToS) - 1, rows.Count - 1) : 0);
    }

    /// <summary>Power that a row shows. [W]</summary>
    public double PowerW(LogRow row) => IsProduct ? row.Voltage * row.Current : row.PowerW;

    /// <summary>The row with another power; in a log of voltage and current with another current.</summary>
    public LogRow With(LogRow row, double powerW) =>
        IsProduct ? row with { Current = powerW / (row.Voltage > 0 ? row.Voltage : 5) }
        : HasCurrent ? row with { PowerW = powerW, Current = powerW / (row.Voltage > 0 ? row.Voltage : 5) }
        : row with { PowerW = powerW };

    /// <summary>The log as a file.</summary>
    public string Text() => CsvText.Of(Rows, Meter, null);
}
