using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.OddDays;

/// <summary>What odd days are put together from.</summary>
internal static class Parts
{
    /// <summary>A mains meter of a lab: 0.5 % + 5 mW, a reading a second, in steps of a milliwatt.</summary>
    public static MeterSheet Plug { get; } = new()
    {
        Name = "plug",
        Place = Place.Wall,
        Kind = RowKind.AverageEnding,
        IntervalS = 1,
        PowerLimit = new Limit(0.005, 0.005),
        PowerNoise = 0.002,
        PowerStep = 0.001,
    };

    /// <summary>A meter in the line of a cable, without errors unless they are given.</summary>
    public static MeterSheet Line { get; } = new()
    {
        Name = "line",
        Place = Place.Usb,
        Kind = RowKind.Instantaneous,
        IntervalS = 1,
        VoltageLimit = new Limit(0.001, 0.005),
        CurrentLimit = new Limit(0.002, 0.001),
        VoltageNoise = 0.001,
        CurrentNoise = 0.0002,
        VoltageStep = 0.001,
        CurrentStep = 0.0001,
    };

    /// <summary>A plain counter of a plug.</summary>
    public static MeterSheet Counter(double stepWh, double intervalS) =>
        Plug with { Kind = RowKind.CounterOnly, IntervalS = intervalS, CounterStepWh = stepWh, PowerLimit = new Limit(0.01, 0) };

    public static Stretch Level(double minutes, double powerW, int charge = 0, double voltage = 5) =>
        new(Piece.Level(60 * minutes, powerW), charge, voltage);

    public static Stretch Ramp(double minutes, double fromW, double toW, int charge = 0, double voltage = 5) =>
        new(Piece.Ramp(60 * minutes, fromW, toW), charge, voltage);

    /// <summary>An exponential fall from one power to another, which it reaches at its end, on its way to zero.</summary>
    public static Stretch Fall(double minutes, double fromW, double toW, int charge = 0, double voltage = 5) =>
        new(Piece.Decay(60 * minutes, fromW, 0, 60 * minutes / Math.Log(fromW / toW)), charge, voltage);

    /// <summary>A waiting pad: 0.15 W, and every second a pulse of 2 W for 50 ms.</summary>
    public static Stretch Pulses(double minutes) => new(Piece.Pulsed(60 * minutes, 0.15, 2, 1, 0.05, 0.31), 0, 5);

    /// <summary>A power that goes up and down by a share about a mean, a stretch every so many minutes.</summary>
    public static IEnumerable<Stretch> Wander(double minutes, double everyMinutes, double meanW, double share, int charge, ulong seed)
    {
        Dice dice = new(seed);
        double last = meanW;
        for (double m = 0; m < minutes; m += everyMinutes)
        {
            double next = meanW * (1 + dice.Between(-share, share));
            yield return Ramp(everyMinutes, last, next, charge);
            last = next;
        }
    }

    /// <summary>A plain charge: flat, then falling.</summary>
    public static IEnumerable<Stretch> Plain(double flatMinutes, double powerW, double fallMinutes, double lastW, int charge = 1,
        double voltage = 9) =>
        [Ramp(flatMinutes, 0.95 * powerW, powerW, charge, voltage), Fall(fallMinutes, powerW, lastW, charge, voltage)];
}
