using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.LogMaker.Studies;
using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>A kind of log that has nothing wrong with it.</summary>
/// <param name="Name">Words for the table.</param>
/// <param name="Make">The log of a seed; seeds that follow one another go through the classes of intervals.</param>
public sealed record SoundKind(string Name, Func<ulong, SoundLog> Make);

/// <summary>Kinds of sound logs: every sort of meter at every interval, and days that look odd and are not.</summary>
public static class SoundKinds
{
    /// <summary>All kinds.</summary>
    public static IReadOnlyList<SoundKind> All { get; } =
    [
        Charge("instants", Place.Wall, RowKind.Instantaneous, m => m),
        Charge("averages, stamped at their end", Place.Wall, RowKind.AverageEnding, m => m),
        Charge("averages, stamped at their start", Place.Wall, RowKind.AverageStarting, m => m),
        Charge("written on change", Place.Wall, RowKind.OnChange, m => m),
        Charge("power and a fine counter", Place.Wall, RowKind.Instantaneous, m => m with { CounterStepWh = 0.001 }),
        Charge("power and a coarse counter", Place.Wall, RowKind.AverageEnding, m => m with { CounterStepWh = 0.1 }),
        Charge("a fine counter alone", Place.Wall, RowKind.CounterOnly, m => m with { CounterStepWh = 0.001 }),
        Charge("a coarse counter alone", Place.Wall, RowKind.CounterOnly, m => m with { CounterStepWh = 0.1 }),
        Charge("voltage and current", Place.Usb, RowKind.Instantaneous, m => m with { WritesPower = false }),
        Charge("voltage, current and power", Place.Usb, RowKind.Instantaneous, m => m with { WritesPower = true }),
        Charge("voltage, current and a counter", Place.Usb, RowKind.Instantaneous, m => m with
        {
            WritesPower = false,
            CounterStepWh = 0.01,
        }),
        Charge("coarse steps of power", Place.Wall, RowKind.Instantaneous, m => m with
        {
            PowerStep = m.PowerLimit.Offset > 0.01 ? 0.5 : 0.1,
            StepStated = true,
        }),
        new("nothing but waiting", seed => Waiting(seed, pulses: false)),
        new("nothing but waiting, with pulses", seed => Waiting(seed, pulses: true)),
        new("a pause in the charge", OddCharges.Paused),
        new("a phone in use while it charges", OddCharges.InUse),
        new("a charge held at 80 %", OddCharges.Held),
        new("a power held to the last digit", OddCharges.Constant),
    ];

    private static SoundKind Charge(string name, Place place, RowKind kind, Func<MeterSheet, MeterSheet> with) => new(name, seed =>
    {
        Dice dice = new(seed);
        (IntervalClass lengths, double interval) = Interval(seed, kind, dice);
        MeterSheet meter = with(MeterDraw.Of(place == Place.Wall ? "plug" : "line", place, kind, false, interval, dice));
        double chargeS = Math.Max(dice.Scale(lengths.ChargeS.From, lengths.ChargeS.To), 12 * interval);
        Plan plan = new(
            Math.Max(dice.Between(lengths.WaitingS.From, lengths.WaitingS.To), 5 * interval),
            Math.Max(dice.Between(lengths.MaintenanceS.From, lengths.MaintenanceS.To), 8 * interval),
            dice.Chance(0.4) ? Math.Max(dice.Between(300, 1200), 5 * interval) : 0);
        (Charger cable, Charger pad) =
            ChargerDraw.Pair(chargeS, 1, kind is RowKind.Instantaneous or RowKind.OnChange ? interval : 0, plan.WaitingS / interval, dice);
        Charger charger = dice.Chance(0.5) ? cable : pad;
        Course course = Course.OfRun(charger, plan, dice);
        double flat = charger.Charge.SkipLast(1).Sum(p => p.LengthS) / charger.ChargeS;
        return SoundLog.Of(course, (course.StartS, course.StartS + (flat * (course.EndS - course.StartS)), course.EndS), meter, dice);
    });

    private static SoundLog Waiting(ulong seed, bool pulses)
    {
        Dice dice = new(seed);
        (IntervalClass lengths, double interval) = Interval(seed, RowKind.Instantaneous, dice);
        RowKind kind = dice.Of(RowKind.Instantaneous, RowKind.AverageEnding);
        MeterSheet meter = MeterDraw.Of("plug", Place.Wall, kind, false, interval, dice);
        meter = dice.Chance(0.3) ? meter with { PowerStep = 0.1, StepStated = true } : meter;
        double length = Math.Max(dice.Scale(lengths.StandbyS.From, lengths.StandbyS.To), 60 * interval);
        double low = dice.Scale(0.05, 0.6);
        Piece piece = pulses
            ? Piece.Pulsed(length, low, low + dice.Between(0.5, 3), 3.7 * interval, 1.1 * interval, dice.Unit())
            : Piece.Level(length, low);
        return SoundLog.Of(Course.OfPieces(Place.Wall, [(piece, 230)]), default, meter, dice);
    }

    internal static (IntervalClass Lengths, double IntervalS) Interval(ulong seed, RowKind kind, Dice dice)
    {
        // Nobody sells a plug that looks every quarter of an hour whether something changed.
        IntervalClass lengths = IntervalClass.All[(int)(seed % (kind == RowKind.OnChange ? 3UL : 4UL))];
        return (lengths, dice.Of(lengths.IntervalsS));
    }
}
