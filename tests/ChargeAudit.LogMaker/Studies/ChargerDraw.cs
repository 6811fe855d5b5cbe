using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>Draws a device and two ways of charging it.</summary>
public static class ChargerDraw
{
    private const double LeastPulsesMet = 10;

    /// <summary>The cable and the pad for one device; the pad charges more slowly.</summary>
    /// <param name="chargeS">Length of a charge by cable. [s]</param>
    /// <param name="leastWh">What a charge takes at the device at least. [Wh]</param>
    /// <param name="readsPulsesEvery">Interval between instants, where the meter sees nothing between them; 0 where it sees all.
    /// [s]</param>
    /// <param name="rowsOfWaiting">Such instants while the pad waits, over all logs. [1]</param>
    /// <param name="dice">The dice.</param>
    public static (Charger Cable, Charger Pad) Pair(double chargeS, double leastWh, double readsPulsesEvery, double rowsOfWaiting,
        Dice dice)
    {
        Polynomial adapter = new(dice.Scale(0.02, 0.15), dice.Between(1.05, 1.14), dice.Between(0.0005, 0.003));
        double plateau = dice.Scale(3, 20);
        plateau = Math.Max(plateau, 1.5 * leastWh * 3600 / chargeS);
        double cut = dice.Between(0.05, 0.12);
        double flatShare = dice.Between(0.5, 0.75);
        bool twoLevels = dice.Chance(0.3);
        bool hello = dice.Chance(0.4);
        double slower = dice.Between(1.1, 1.6);
        double scatter = dice.Scale(0.001, 0.015);
        (double burstW, double burstS, int bursts) = dice.Chance(0.3)
            ? (plateau * dice.Between(0.03, 0.12), dice.Between(10, 40), dice.Whole(3, 15))
            : (0, 1, 0);
        double volts = plateau > 9 ? 9.05 : 5.08;
        Charger cable = new()
        {
            Name = "cable",
            Inductive = false,
            Adapter = adapter,
            Link = new Polynomial(0, 1.01, dice.Between(0.001, 0.004)),
            Charge = Stages(plateau, chargeS, cut, flatShare, twoLevels, hello),
            Waiting = Levels.Steady(0),
            Maintenance = Full(dice.Scale(0.06, 0.6), dice),
            ChargingV = volts,
            IdleV = 5.08,
            BurstW = burstW,
            BurstS = burstS,
            BurstCount = bursts,
            LengthScatter = scatter,
            PowerScatter = scatter * dice.Between(0, 1),
            MaintenanceScatter = dice.Between(0, 0.02),
        };
        Levels waiting = Waiting(readsPulsesEvery, rowsOfWaiting, dice);
        Charger pad = cable with
        {
            Name = "pad",
            Inductive = true,
            Link = new Polynomial(dice.Between(0.2, 0.7), dice.Between(1.15, 1.4), dice.Between(0.001, 0.005)),
            Charge = Stages(plateau / slower, chargeS * slower, cut, flatShare, twoLevels, hello),
            Waiting = waiting,
            Maintenance = Full(waiting.MeanW * dice.Between(1.7, 2.5) + dice.Between(0.1, 0.5), dice),
            LengthScatter = scatter * dice.Between(1, 2),
            PowerScatter = scatter * dice.Between(0.5, 2),
            MaintenanceScatter = dice.Between(0, 0.03),
        };
        return (cable, pad);
    }

    // Flat, then an exponential fall to the share at which the battery is called full; the power of a flat stage rises with the battery's
    // voltage.
    private static List<Piece> Stages(double plateauW, double lengthS, double cut, double flatShare, bool twoLevels, bool hello)
    {
        List<Piece> pieces = [];
        double helloS = hello ? Math.Min(20, lengthS / 50) : 0;
        if (hello)
        {
            pieces.Add(Piece.Level(helloS, Math.Min(2.5, 0.6 * plateauW)));
        }

        double flatS = (lengthS - helloS) * flatShare;
        double before = twoLevels ? 0.45 * flatS : 0;
        if (twoLevels)
        {
            pieces.Add(Piece.Ramp(before, 1.22 * plateauW, 1.3 * plateauW));
        }

        pieces.Add(Piece.Ramp(flatS - before, 0.93 * plateauW, plateauW));
        double fallS = lengthS - helloS - flatS;
        pieces.Add(Piece.Decay(fallS, plateauW, 0, fallS / Math.Log(1 / cut)));
        return pieces;
    }

    private static Levels Full(double meanW, Dice dice) => dice.Chance(0.6)
        ? Levels.Steady(meanW)
        : new Levels(meanW * 0.9, meanW * dice.Between(1.1, 1.8), dice.Between(60, 120), dice.Between(8, 25));

    // Pulses that instants a long way apart would never meet are no fair test: nobody could know of them. Slow instants get pulses long
    // enough to be met some ten times; where there are too few rows for that, the pad is steady.
    private static Levels Waiting(double readsPulsesEvery, double rowsOfWaiting, Dice dice)
    {
        double low = dice.Scale(0.03, 0.25);
        double high = low + dice.Between(0.3, 2);
        double period = dice.Between(0.5, 3);
        double duty = readsPulsesEvery > 1 ? dice.Between(0.2, 0.4) : dice.Between(0.03, 0.15);
        return dice.Chance(0.4) || rowsOfWaiting * duty < LeastPulsesMet
            ? Levels.Steady(low)
            : new Levels(low, high, period, duty * period);
    }
}
