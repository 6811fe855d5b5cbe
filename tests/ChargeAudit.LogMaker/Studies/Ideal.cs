using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>
/// Half the 95 % interval of an evaluation with full knowledge (<see cref="Known"/>): it is drawn many times, and the half-width is what 95
/// of 100 of its errors stay below. No program can be held to that, but it tells wide from needlessly wide.
/// </summary>
public static class Ideal
{
    private const int Draws = 400;

    /// <summary>The half-width of each figure of two methods, in the figure's unit.</summary>
    public static Dictionary<(FigureKind Figure, string Method), double> HalfWidths(Known cable, Known pad, UseOfIt use, Dice dice)
    {
        Dictionary<(FigureKind, string), List<double>> errors = [];
        void Add(FigureKind figure, string method, double found, double truth)
        {
            if (!errors.TryGetValue((figure, method), out List<double>? list))
            {
                errors[(figure, method)] = list = [];
            }

            list.Add(Math.Abs(found - truth));
        }

        for (int i = 0; i < Draws; i++)
        {
            (double Gain, (double, double, double) Offsets) ofCable = Errors(cable.Meter, dice);
            (double Gain, (double, double, double) Offsets) ofPad = pad.Meter.Name == cable.Meter.Name ? ofCable : Errors(pad.Meter, dice);
            var a = cable.Drawn(ofCable.Gain, ofCable.Offsets, dice);
            var b = pad.Drawn(ofPad.Gain, ofPad.Offsets, dice);
            foreach (var (known, found) in new[] { (cable, a), (pad, b) })
            {
                string name = known.Charger.Name;
                (double e, double d, double m, double n) = (known.EnergyWh, known.ChargeS, known.MaintenanceW, known.NoLoadW);
                double year = use.YearKwh(e, d, m, n);
                double foundYear = use.YearKwh(found.EnergyWh, found.ChargeS, found.MaintenanceW, found.NoLoadW);
                Add(FigureKind.Energy, name, found.EnergyWh, e);
                Add(FigureKind.Maintenance, name, found.MaintenanceW, m);
                Add(FigureKind.NoLoad, name, found.NoLoadW, n);
                Add(FigureKind.YearEnergy, name, foundYear, year);
                Add(FigureKind.YearCost, name, use.PriceAKwh * foundYear, use.PriceAKwh * year);
            }

            Add(FigureKind.Ratio, pad.Charger.Name, b.EnergyWh / a.EnergyWh, pad.EnergyWh / cable.EnergyWh);
        }

        return errors.ToDictionary(e => e.Key, e => e.Value.Order().ElementAt(Draws * 95 / 100));
    }

    private static (double Gain, (double Power, double Voltage, double Current) Offsets) Errors(MeterSheet meter, Dice dice)
    {
        double Within(double limit) => dice.Between(-limit, limit);
        return meter.OnDirectCurrent
            ? (Within(meter.VoltageLimit.Gain) + Within(meter.CurrentLimit.Gain),
                (0, Within(meter.VoltageLimit.Offset), Within(meter.CurrentLimit.Offset)))
            : (Within(meter.PowerLimit.Gain), (Within(meter.PowerLimit.Offset), 0, 0));
    }
}
