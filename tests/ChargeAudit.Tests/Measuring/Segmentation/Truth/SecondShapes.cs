using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation.Truth;

/// <summary>
/// Days stepped second by second through a battery, a device with a load that comes and goes, a case that warms up and a charger that slows
/// down when hot. Shares no formula with <see cref="FirstShapes"/> and nothing with the mode finder, whose parameters were chosen with it,
/// too.
/// </summary>
public static class SecondShapes
{
    public static TruthLog Make(int number)
    {
        var random = new TruthRandom(0x5EED00000000UL + (ulong)number);
        double batteryWh = random.LogBetween(1.5, 30);
        double ratedW = Math.Clamp(batteryWh * random.Between(0.35, 1.5), 2.5, 45);
        bool pad = ratedW <= 18 && random.Chance(0.55);
        var world = new World(random, batteryWh, ratedW, pad);
        int kind = random.Whole(0, 8);
        string name;
        if (kind == 0)
        {
            name = "waiting only";
            world.Empty(random.Between(1500, 20000));
        }
        else if (kind == 1)
        {
            name = "cut to the charge";
            world.Device(random.Between(0.05, 0.5), keepS: 0);
        }
        else
        {
            int devices = random.Of(1, 1, 1, 2, 3);
            name = $"{devices} on the charger";
            if (random.Chance(0.25))
            {
                world.Unplugged(random.Between(400, 4000));
            }

            for (int i = 0; i < devices; i++)
            {
                world.Empty(random.Between(700, 6000));
                world.Device(random.Between(0.05, 0.6), random.Between(700, 12000));
            }

            if (random.Chance(0.7))
            {
                world.Empty(random.Between(700, 6000));
            }

            if (random.Chance(0.2))
            {
                world.Unplugged(random.Between(400, 4000));
            }
        }

        double interval = random.Of(0.1, 0.5, 1.0, 1.0, 1.0, 1.0, 3.0, 6.0, 15.0, 30.0, 60.0);
        var meter = new TruthMeter(
            interval, random.Of(0, 0.02, 0.2), random.Chance(0.5), random.LogBetween(0.0005, 0.015), random.LogBetween(0.0003, 0.006),
                random.Of(0, 0, 0.001, 0.005, 0.01));
        return world.Day.Log($"{name} {number}", random, meter, batteryWh, ratedW);
    }

    private sealed class World
    {
        private readonly TruthRandom _random;
        private readonly double _capacityJ;
        private readonly double _ratedW;
        private readonly double _fixedW;
        private readonly double _perWatt;
        private readonly double _perSquareWatt;
        private readonly double _idleW;
        private readonly double _pingW;
        private readonly double _pingEveryS;
        private readonly double _pingShare;
        private readonly double _hotAt;
        private readonly double _ohm;
        private readonly double _endShare;
        private readonly double _loadW;

        public World(TruthRandom random, double batteryWh, double ratedW, bool pad)
        {
            _random = random;
            _capacityJ = batteryWh * 3600;
            _ratedW = ratedW;
            _fixedW = pad ? random.Between(0.25, 0.8) : random.Between(0.03, 0.15);
            _perWatt = pad ? random.Between(1.15, 1.4) : random.Between(1.05, 1.13);
            _perSquareWatt = random.Between(0, 0.01);
            _idleW = pad ? random.Between(0.08, 0.4) : random.Between(0.02, 0.12);
            _pingW = pad ? random.Between(0.3, 3) : 0;
            _pingEveryS = random.Between(0.6, 12);
            _pingShare = random.Between(0.01, 0.06);
            _hotAt = pad && random.Chance(0.5) ? random.Between(0.55, 0.85) : 9;
            _ohm = random.Between(0.03, 0.15);
            _endShare = random.Between(0.03, 0.12);
            _loadW = random.LogBetween(0.03, 0.25) * Math.Min(1, ratedW / 10);
        }

        public TruthDay Day { get; } = new();

        public void Unplugged(double lengthS) => Day.Add(Mode.Off, lengthS, _ => 0);

        public void Empty(double lengthS)
        {
            double phase = _random.Between(0, _pingEveryS);
            Day.Add(Mode.NoLoad, lengthS, t => _idleW + (((t + phase) % _pingEveryS) < _pingShare * _pingEveryS ? _pingW : 0));
        }

        public void Device(double filled, double keepS)
        {
            int charging = 0;
            var watts = new List<double>();
            double heat = 0.1;
            bool slow = false;
            bool busy = false;
            double maxBattery = (_ratedW - _fixedW) / _perWatt * 0.9;

            // Per unit of voltage: open circuit 0.8 to 1, the charger holds 1 at the terminals; the current is then what the resistance
            // lets in.
            while (true)
            {
                double open = 0.8 + (0.2 * Math.Pow(filled, 0.7));
                double limit = slow ? 0.55 * maxBattery : maxBattery;
                double currentFull = (1 - open) / _ohm * maxBattery;
                double battery = Math.Min(limit, currentFull);
                if (battery < _endShare * maxBattery || filled >= 1)
                {
                    break;
                }

                filled += battery * 0.98 / _capacityJ;
                busy = _random.Chance(busy ? 0.02 : 0.004) != busy;
                double into = battery + (busy ? 2 * _loadW : _loadW);
                watts.Add(_fixedW + (_perWatt * into) + (_perSquareWatt * into * into));
                heat += ((battery / maxBattery) - heat) / 1500;
                slow = slow ? heat > _hotAt - 0.12 : heat > _hotAt;
                charging++;
            }

            var charge = watts.ToArray();
            Day.Add(Mode.Charge, charging, t => charge[Math.Clamp((int)t, 0, charge.Length - 1)]);
            if (keepS <= 0)
            {
                return;
            }

            var kept = new double[(int)keepS + 1];
            double missing = 0;
            int topUpLeft = 0;
            bool fromBattery = _random.Chance(0.4);
            for (int i = 0; i < kept.Length; i++)
            {
                busy = _random.Chance(busy ? 0.02 : 0.004) != busy;
                double load = busy ? 1.3 * _loadW : _loadW;
                missing += fromBattery ? load : 0;
                topUpLeft = topUpLeft > 0 ? topUpLeft - 1 : missing > 0.012 * _capacityJ ? (int)(missing / (0.45 * maxBattery)) : 0;
                missing = topUpLeft > 0 ? 0 : missing;
                double into = topUpLeft > 0 ? 0.45 * maxBattery : fromBattery ? 0 : load;
                kept[i] = _fixedW + (_perWatt * into) + (_perSquareWatt * into * into);
            }

            Day.Add(Mode.Maintenance, keepS, t => kept[Math.Clamp((int)t, 0, kept.Length - 1)]);
        }
    }
}
