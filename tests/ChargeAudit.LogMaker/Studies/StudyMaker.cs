using System.Globalization;
using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>Makes whole studies: a cable and a pad, one to five runs, logs at one place or two, with or without logs of waiting.</summary>
public static class StudyMaker
{
    private static readonly (RowKind Kind, bool Counter)[] Kinds =
    [
        (RowKind.Instantaneous, false), (RowKind.AverageEnding, false), (RowKind.AverageStarting, false), (RowKind.OnChange, false),
        (RowKind.CounterOnly, false), (RowKind.CounterOnly, false), (RowKind.Instantaneous, true), (RowKind.AverageEnding, true),
    ];

    /// <summary>The study of a seed. Seeds that follow one another go through the classes of intervals and the kinds of meters in
    /// turn.</summary>
    public static MadeStudy Of(ulong seed)
    {
        Dice dice = new(seed);
        IntervalClass lengths = IntervalClass.All[(int)(seed % 4)];
        (RowKind kind, bool counter) = Kinds[(int)(seed / 4 % 8)];
        if (kind == RowKind.OnChange && lengths == IntervalClass.All[^1])
        {
            // Nobody sells a plug that looks every quarter of an hour whether something changed.
            kind = RowKind.CounterOnly;
        }

        double interval = dice.Of(lengths.IntervalsS);
        Place first = kind != RowKind.OnChange && dice.Chance(0.25) ? Place.Usb : Place.Wall;
        bool two = first == Place.Wall && dice.Chance(0.35);
        bool twoMeters = dice.Chance(0.3);
        List<(MeterSheet Cable, MeterSheet Pad)> meters = [Meters(first, kind, counter, interval, twoMeters, dice)];
        if (two)
        {
            (RowKind other, bool otherCounter) = dice.Of(Kinds[0], Kinds[1], Kinds[2], Kinds[6]);
            meters.Add(Meters(Place.Usb, other, otherCounter, dice.Of(lengths.IntervalsS), twoMeters, dice));
        }

        double slowest = meters.Max(m => m.Cable.IntervalS);
        double coarsest = meters.Max(m => m.Cable.Kind == RowKind.CounterOnly ? Math.Max(m.Cable.CounterStepWh, m.Pad.CounterStepWh) : 0);
        double chargeS = Math.Max(dice.Scale(lengths.ChargeS.From, lengths.ChargeS.To), 12 * slowest);
        int runs = dice.Of(1, 1, 2, 3, 3, 3, 4, 5);
        bool tail = dice.Chance(0.4);
        Plan plan = new(
            Math.Max(dice.Between(lengths.WaitingS.From, lengths.WaitingS.To), dice.Between(3, 8) * slowest),
            dice.Chance(0.9) ? Math.Max(dice.Between(lengths.MaintenanceS.From, lengths.MaintenanceS.To), 8 * slowest) : 4 * slowest,
            tail ? Math.Max(dice.Between(300, 1200), dice.Between(4, 8) * slowest) : 0);
        double standbyS = Math.Max(dice.Scale(lengths.StandbyS.From, lengths.StandbyS.To), 12 * slowest)
            * (coarsest >= 1 && slowest >= 10 ? 4 : 1);
        int standby = dice.Of(0, 0, 1, 2, 2, 2);
        double sees = meters.Where(m => m.Cable.Kind is RowKind.Instantaneous or RowKind.OnChange).Select(m => m.Cable.IntervalS)
            .DefaultIfEmpty(0).Max();
        double rows = sees <= 0 ? double.PositiveInfinity : (standby > 0 ? standbyS : (plan.WaitingS + plan.TailS) * runs) / sees;
        (Charger cable, Charger pad) = ChargerDraw.Pair(chargeS, Math.Max(1, coarsest >= 1 ? 4 * coarsest : 0), sees, rows, dice);
        double longestH = pad.ChargeS / 3600;
        double hours = Math.Ceiling(longestH * 1.1) + dice.Whole(1, 4);
        UseOfIt use = new(Math.Min(dice.Whole(3, 10), (int)(150 / hours)), hours, 0.31);
        StudyFiles files = new(dice, dice.Chance(0.2));
        List<TrueFigure> truths = [];
        Dictionary<(string, Place), (double E, double D, double M)> own = [];
        foreach (Charger charger in new[] { cable, pad })
        {
            for (int run = 1; run <= runs; run++)
            {
                Course course = Course.OfRun(charger, plan, dice);
                files.AddRun(charger, run, course, [.. meters.Select(m => charger.Inductive ? m.Pad : m.Cable)]);
                foreach (Place place in new[] { Place.Wall, Place.Usb })
                {
                    own[(charger.Name, place)] =
                        (course.EnergyWh(place), course.EndS - course.StartS, charger.MaintenanceW(place) * course.MaintenanceFactor);
                }
            }

            if (standby == 2 || (standby == 1 && charger.Inductive))
            {
                files.AddStandby(charger, Course.OfWaiting(charger, standbyS, dice),
                    [.. meters.Select(m => charger.Inductive ? m.Pad : m.Cable)]);
            }
        }

        foreach ((MeterSheet ofCable, MeterSheet ofPad) in meters)
        {
            Place place = ofCable.Place;
            Known a = new(cable, place, ofCable, runs, plan, standby == 2 ? standbyS : 0);
            Known b = new(pad, place, ofPad, runs, plan, standby >= 1 ? standbyS : 0);
            Dictionary<(FigureKind Figure, string Method), double> ideal = Ideal.HalfWidths(a, b, use, dice);
            Dictionary<string, double> energies = [];
            foreach ((Charger charger, MeterSheet meter) in new[] { (cable, ofCable), (pad, ofPad) })
            {
                // One run speaks for itself; several speak for the mean of very many.
                (double e, double d, double m) = runs == 1
                    ? own[(charger.Name, place)]
                    : (charger.EnergyWh(place), charger.ChargeS, charger.MaintenanceW(place));
                double n = charger.NoLoadW(place);
                energies[charger.Name] = e;
                void Add(FigureKind figure, double value) =>
                    truths.Add(new TrueFigure(figure, charger.Name, place, value, meter, ideal[(figure, charger.Name)]));
                Add(FigureKind.Energy, e);
                Add(FigureKind.Maintenance, m);
                Add(FigureKind.NoLoad, n);
                if (place == Place.Wall)
                {
                    Add(FigureKind.YearEnergy, use.YearKwh(e, d, m, n));
                    Add(FigureKind.YearCost, use.PriceAKwh * use.YearKwh(e, d, m, n));
                }
            }

            truths.Add(new TrueFigure(FigureKind.Ratio, pad.Name, place, energies[pad.Name] / energies[cable.Name], ofPad,
                ideal[(FigureKind.Ratio, pad.Name)]));
        }

        string summary =
            string.Join("; ",
            meters.Select(m =>
            string.Create(CultureInfo.InvariantCulture,
            $"{m.Cable.Place} every {m.Cable.IntervalS:G4} s, "
            + $"{MeterKind.Of(m.Cable)}{(m.Cable.CounterStepWh > 0 ? $" {m.Cable.CounterStepWh} Wh" : "")}"
                + $"{(m.Cable.ReportsW > 0 ? $" from {m.Cable.ReportsW} W" : "")}")))
            + string.Create(CultureInfo.InvariantCulture,
                $"; runs {runs}, stand-by logs {standby}, charge {chargeS / 3600:F1} h of {cable.EnergyWh(Place.Usb):F1} Wh at usb, "
                + $"{(pad.Waiting.HasPulses ? "pulsed" : "steady")} pad");
        return new MadeStudy
        {
            Seed = seed,
            Files = files.With(meters.SelectMany(m => new[] { m.Cable, m.Pad }).DistinctBy(m => m.Name), use),
            Truths = truths,
            Charges = files.Charges,
            Summary = summary,
        };
    }

    private static (MeterSheet Cable, MeterSheet Pad) Meters(Place place, RowKind kind, bool counter, double interval, bool two, Dice dice)
    {
        string name = place == Place.Wall ? "plug" : "line";
        MeterSheet one = MeterDraw.Of(name, place, kind, counter, interval, dice);
        return (one, two ? MeterDraw.Of(name + "-two", place, kind, counter, interval, dice) : one);
    }
}
