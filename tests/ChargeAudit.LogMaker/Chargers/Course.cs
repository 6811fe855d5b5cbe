using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.Chargers;

/// <summary>How long each part of a log lasts. [s]</summary>
/// <param name="WaitingS">Before the device is laid down.</param>
/// <param name="MaintenanceS">With the full device.</param>
/// <param name="TailS">After it was removed.</param>
public sealed record Plan(double WaitingS, double MaintenanceS, double TailS);

/// <summary>What flows in one run, exactly, from the moment that the charger is switched on.</summary>
public sealed class Course
{
    private readonly Dictionary<Place, Trace> _powers = [];

    /// <summary>Power at a place. [W]</summary>
    public Trace PowerW(Place place) => _powers[place];

    /// <summary>At the adapter's output. [V]</summary>
    public Trace Voltage { get; private init; } = new([Piece.Level(1, 0)]);

    /// <summary>At the adapter's output. [A]</summary>
    public Trace Current { get; private init; } = new([Piece.Level(1, 0)]);

    /// <summary>When the charge begins. [s]</summary>
    public double StartS { get; private init; }

    /// <summary>When it ends. [s]</summary>
    public double EndS { get; private init; }

    /// <summary>When the device is removed. [s]</summary>
    public double RemovedS { get; private init; }

    /// <summary>Power when full in this run, by that of the nominal one. [1]</summary>
    public double MaintenanceFactor { get; private init; } = 1;

    public double LengthS => Voltage.LengthS;

    /// <summary>Energy of this one charge. [Wh]</summary>
    public double EnergyWh(Place place) => PowerW(place).Integral(StartS, EndS) / 3600;

    /// <summary>One run with its own length and power.</summary>
    public static Course OfRun(Charger charger, Plan plan, Dice dice)
    {
        double length = 1 + (charger.LengthScatter * Bounded(dice));
        double power = 1 + (charger.PowerScatter * Bounded(dice));
        double full = 1 + (charger.MaintenanceScatter * Bounded(dice));
        double chargeS = charger.ChargeS * length;
        double[] phases = [dice.Unit() * charger.Waiting.PeriodS, dice.Unit() * charger.Maintenance.PeriodS, dice.Unit()
            * charger.Waiting.PeriodS];
        double slotS = chargeS / Math.Max(1, charger.BurstCount);
        double[] burstStarts = [.. Enumerable.Range(0, charger.BurstCount)
            .Select(i => plan.WaitingS + (i * slotS) + (dice.Unit() * (slotS - charger.BurstS)))];
        List<Piece> PiecesAt(Place place)
        {
            Levels waiting = charger.At(charger.Waiting, place);
            return
            [
                waiting.For(plan.WaitingS, phases[0]),
                .. charger.Charge.Select(p => p.Through(charger.MapTo(place)).Through(Polynomial.Same.By(power)).Stretched(length)),
                charger.At(charger.Maintenance, place).By(full).For(plan.MaintenanceS, phases[1]),
                waiting.For(plan.TailS, phases[2]),
            ];
        }

        double[] volts = [charger.IdleV, .. charger.Charge.Select(_ => charger.ChargingV), charger.IdleV, charger.IdleV];
        IEnumerable<Burst> BurstsOf(double heightW) => burstStarts.Select(s => new Burst(s, charger.BurstS, heightW));
        List<Piece> output = PiecesAt(Place.Usb);
        Course course = new()
        {
            StartS = plan.WaitingS,
            EndS = plan.WaitingS + chargeS,
            RemovedS = plan.WaitingS + chargeS + plan.MaintenanceS,
            MaintenanceFactor = full,
            Voltage = new Trace(output.Select((p, i) => Piece.Level(p.LengthS, volts[i]))),
            Current = new Trace(output.Select((p, i) => p.Through(Polynomial.Same.By(1 / volts[i]))),
                BurstsOf(charger.BurstW / charger.ChargingV)),
        };
        course._powers[Place.Usb] = new Trace(output, BurstsOf(charger.BurstW));
        course._powers[Place.Wall] = new Trace(PiecesAt(Place.Wall), BurstsOf(charger.BurstW * charger.BurstFactor(Place.Wall)));
        return course;
    }

    /// <summary>Nothing but waiting.</summary>
    public static Course OfWaiting(Charger charger, double lengthS, Dice dice)
    {
        double phase = dice.Unit() * charger.Waiting.PeriodS;
        Levels atUsb = charger.Waiting;
        Course course = new()
        {
            StartS = lengthS,
            EndS = lengthS,
            Voltage = new Trace([Piece.Level(lengthS, charger.IdleV)]),
            Current = new Trace([atUsb.By(1 / charger.IdleV).For(lengthS, phase)]),
        };
        course._powers[Place.Usb] = new Trace([atUsb.For(lengthS, phase)]);
        course._powers[Place.Wall] = new Trace([charger.At(atUsb, Place.Wall).For(lengthS, phase)]);
        return course;
    }

    /// <summary>What flows at one place, piece by piece; the voltage of each piece where the meter reads it.</summary>
    public static Course OfPieces(Place place, IReadOnlyList<(Piece PowerW, double Voltage)> pieces)
    {
        Course course = new()
        {
            Voltage = new Trace(pieces.Select(p => Piece.Level(p.PowerW.LengthS, p.Voltage))),
            Current = new Trace(pieces.Select(p => p.PowerW.Through(Polynomial.Same.By(1 / p.Voltage)))),
        };
        course._powers[place] = new Trace(pieces.Select(p => p.PowerW));
        return course;
    }

    // Runs do not differ without limit; cut symmetrically, so that the mean stays.
    private static double Bounded(Dice dice) => Math.Clamp(dice.Normal(), -3, 3);
}
