using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.LogMaker.Studies;
using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>Charges that a hasty rule would take for damage.</summary>
internal static class OddCharges
{
    /// <summary>A pause of some minutes: by cable nothing flows in it, on a pad what the pad takes.</summary>
    public static SoundLog Paused(ulong seed) => Make(seed, (dice, chargeS, plateauW, atUsb) =>
    {
        double idle = atUsb ? 0 : dice.Scale(0.05, 0.4);
        double pause = Math.Max(dice.Between(240, 900), 0);
        double before = dice.Between(0.2, 0.5) * chargeS;
        return
        [
            Piece.Ramp(before, 0.96 * plateauW, plateauW), Piece.Level(pause, idle),
                Piece.Ramp(0.7 * chargeS - before, 0.98 * plateauW, plateauW),
            Fall(0.3 * chargeS, plateauW),
        ];
    });

    /// <summary>Power that wanders as the phone works.</summary>
    public static SoundLog InUse(ulong seed) => Make(seed, (dice, chargeS, plateauW, _) =>
    {
        List<Piece> pieces = [];
        double every = chargeS / dice.Whole(15, 60);
        double last = plateauW;
        for (double t = 0; t < 0.7 * chargeS; t += every)
        {
            double next = plateauW * dice.Between(0.7, 1.15);
            pieces.Add(dice.Chance(0.5) ? Piece.Ramp(every, last, next) : Piece.Level(every, next));
            last = next;
        }

        return [.. pieces, Fall(0.3 * chargeS, last)];
    });

    /// <summary>Held at 80 % for an hour or more, then finished.</summary>
    public static SoundLog Held(ulong seed) => Make(seed, (dice, chargeS, plateauW, _) =>
        [Piece.Ramp(0.6 * chargeS, 0.95 * plateauW, plateauW), Piece.Level(dice.Between(1, 3) * 3600, dice.Between(0.03, 0.1) * plateauW),
            Piece.Level(0.15 * chargeS, plateauW), Fall(0.25 * chargeS, plateauW)]);

    /// <summary>A plateau that is flat, as a charger holds its current.</summary>
    public static SoundLog Constant(ulong seed) =>
        Make(seed, (_, chargeS, plateauW, _) => [Piece.Level(0.7 * chargeS, plateauW), Fall(0.3 * chargeS, plateauW)]);

    private static Piece Fall(double lengthS, double fromW) => Piece.Decay(lengthS, fromW, 0, lengthS / Math.Log(12));

    private static SoundLog Make(ulong seed, Func<Dice, double, double, bool, IEnumerable<Piece>> charge)
    {
        Dice dice = new(seed);
        (IntervalClass lengths, double interval) = SoundKinds.Interval(seed, RowKind.Instantaneous, dice);
        Place place = dice.Chance(0.3) ? Place.Usb : Place.Wall;
        RowKind kind = place == Place.Usb ? RowKind.Instantaneous : dice.Of(RowKind.Instantaneous, RowKind.AverageEnding);
        MeterSheet meter = MeterDraw.Of(place == Place.Wall ? "plug" : "line", place, kind, false, interval, dice);
        double chargeS = Math.Max(dice.Scale(lengths.ChargeS.From, lengths.ChargeS.To), 40 * interval);
        Piece[] pieces = [.. charge(dice, chargeS, dice.Scale(4, 20), place == Place.Usb)];
        double waits = Math.Max(dice.Between(lengths.WaitingS.From, lengths.WaitingS.To), 8 * interval);
        double full = Math.Max(dice.Between(lengths.MaintenanceS.From, lengths.MaintenanceS.To), 8 * interval);
        double idle = place == Place.Usb ? 0 : dice.Scale(0.03, 0.3);
        (Piece, double)[] all = [(Piece.Level(waits, idle), 5), .. pieces.Select(p => (p, 9.0)),
            (Piece.Level(full, dice.Scale(0.1, 0.5)), 5)];
        double charges = pieces.Sum(p => p.LengthS);
        return SoundLog.Of(Course.OfPieces(place, all), (waits, waits + charges - pieces[^1].LengthS, waits + charges), meter, dice);
    }
}
