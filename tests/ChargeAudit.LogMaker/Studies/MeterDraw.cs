using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>Draws meters: a data sheet, and errors anywhere within it.</summary>
public static class MeterDraw
{
    private static readonly double[] CounterSteps = [0.001, 0.01, 0.1, 1, 10];

    /// <summary>A meter at a place.</summary>
    public static MeterSheet Of(string name, Place place, RowKind kind, bool counterBeside, double intervalS, Dice dice)
    {
        MeterSheet bare = new()
        {
            Name = name,
            Place = place,
            Kind = kind,
            IntervalS = intervalS,
            AheadS = dice.Chance(0.5) ? 0 : dice.Between(-3, 3),
            Jitter = dice.Chance(0.5) ? 0 : dice.Between(0, 0.05),
        };
        MeterSheet meter = place == Place.Wall || kind == RowKind.CounterOnly ? OnMains(bare, dice) : OnDirectCurrent(bare, dice);
        return kind == RowKind.CounterOnly ? meter with { CounterStepWh = dice.Of(CounterSteps) }
            : counterBeside ? meter with { CounterStepWh = dice.Of(CounterSteps.AsSpan(0, 4)) }
            : meter;
    }

    private static MeterSheet OnMains(MeterSheet meter, Dice dice)
    {
        Limit limit = new(dice.Of(0.002, 0.005, 0.01, 0.02), dice.Of(0.002, 0.005, 0.01, 0.02, 0.05));
        int style = dice.Whole(0, 3);

        // Fine digits; a coarse step within the fixed part; or a coarse step that the data sheet states besides.
        double step = style switch { 0 or 1 => 0.001, 2 => limit.Offset >= 0.02 ? 0.01 : 0.001, _ => dice.Of(0.01, 0.1, 0.1) };
        bool stated = style == 3;
        double room = stated ? limit.Offset : Math.Max(0, limit.Offset - (step / 2));
        double noise = dice.Of(0, 0.001, 0.003) + (dice.Chance(0.3) ? step / 2 : 0);
        return meter with
        {
            PowerLimit = limit,
            PowerError = new Limit(dice.Between(-limit.Gain, limit.Gain), dice.Between(-room, room)),
            PowerNoise = noise,
            PowerStep = step,
            StepStated = stated,
            ReportsW = meter.Kind == RowKind.OnChange ? Math.Max(dice.Of(0.05, 0.1, 0.5, 1), 6 * noise) : 0,
        };
    }

    private static MeterSheet OnDirectCurrent(MeterSheet meter, Dice dice)
    {
        Limit voltage = new(dice.Of(0.0005, 0.001, 0.005), dice.Of(0.002, 0.005, 0.01));
        Limit current = new(dice.Of(0.001, 0.002, 0.005), dice.Of(0.0002, 0.001, 0.003, 0.01));
        double voltageStep = dice.Of(0.001, 0.01);
        double currentStep = current.Offset >= 0.003 ? dice.Of(0.001, 0.0001) : 0.0001;
        double voltageRoom = Math.Max(0, voltage.Offset - (voltageStep / 2));
        double currentRoom = Math.Max(0, current.Offset - (currentStep / 2));
        return meter with
        {
            VoltageLimit = voltage,
            CurrentLimit = current,
            VoltageError = new Limit(dice.Between(-voltage.Gain, voltage.Gain), dice.Between(-voltageRoom, voltageRoom)),
            CurrentError = new Limit(dice.Between(-current.Gain, current.Gain), dice.Between(-currentRoom, currentRoom)),
            VoltageNoise = dice.Of(0, 0.001, 0.003),
            CurrentNoise = dice.Of(0, 0.0001, 0.0005),
            VoltageStep = voltageStep,
            CurrentStep = currentStep,
            PowerStep = 0.001,
            WritesPower = dice.Chance(0.3),
        };
    }
}
