using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation.Truth;

/// <summary>
/// Days from an equivalent-circuit view of a charge: constant current into a rising voltage, then an exponential fall to a cut-off, an
/// adapter or pad with a fixed overhead, heat pauses, misplaced devices, top-ups. The mode finder's parameters were chosen with these.
/// </summary>
public static class FirstShapes
{
    public static TruthLog Make(int number)
    {
        var random = new TruthRandom(0xC0FFEE + (ulong)number);
        double batteryWh = random.LogBetween(1.5, 30);
        double plateauW = Math.Clamp(batteryWh / random.Between(0.6, 3.5), 2.5, 45);
        double interval = random.Of(0.1, 0.25, 1.0, 1.0, 1.0, 2.0, 5.0, 10.0, 30.0, 60.0);
        bool pad = plateauW < 20 && random.Chance(0.6);
        var meter = new TruthMeter(
            interval, random.Of(0, 0.05, 0.3), random.Chance(0.4), random.LogBetween(0.001, 0.02), random.LogBetween(0.0005, 0.01),
                random.Of(0, 0.001, 0.01, plateauW > 8 ? 0.1 : 0.01));
        var charger = new Charger(random, pad, plateauW, batteryWh);
        var day = new TruthDay();
        string name;
        switch (number % 10)
        {
            case 0:
                name = "waiting";
                charger.Wait(day, random.Between(1800, 14400));
                break;
            case 1:
                name = "charge only";
                charger.Charge(day, heat: random.Chance(0.3));
                break;
            case 2:
                name = "two charges";
                charger.Wait(day, random.Between(300, 3000));
                charger.Charge(day, heat: false);
                charger.Keep(day, random.Between(1200, 7200));
                charger.Wait(day, random.Between(1200, 7200));
                charger.Charge(day, heat: false);
                charger.Keep(day, random.Between(1200, 7200));
                break;
            case 3:
                name = "long keeping";
                charger.Charge(day, heat: random.Chance(0.3));
                charger.Keep(day, random.Between(10000, 30000));
                break;
            default:
                name = "a day";
                if (random.Chance(0.3))
                {
                    day.Add(Mode.Off, random.Between(600, 3600), _ => 0);
                }

                charger.Wait(day, random.Between(300, 3600));
                charger.Attempts(day, random.Whole(0, 4));
                charger.Charge(day, heat: pad && random.Chance(0.5));
                charger.Keep(day, random.Between(900, 10000));
                if (random.Chance(0.6))
                {
                    charger.Wait(day, random.Between(600, 3600));
                }

                if (random.Chance(0.3))
                {
                    day.Add(Mode.Off, random.Between(600, 3600), _ => 0);
                }

                break;
        }

        return day.Log($"{name} {number}", random, meter, batteryWh, plateauW);
    }

    private sealed class Charger(TruthRandom random, bool pad, double plateauW, double batteryWh)
    {
        private readonly double _waitW = pad ? random.Between(0.05, 0.5) : random.LogBetween(0.02, 0.15);
        private readonly double _pulseW = pad ? random.Between(0.5, 2) : 0;
        private readonly double _pulseEveryS = random.Between(0.4, 5);
        private readonly double _pulseS = random.Between(0.03, 0.2);
        private readonly double _overheadW = pad ? random.Between(0.3, 0.9) : random.LogBetween(0.02, 0.12);
        private readonly double _keepExtraW = random.LogBetween(0.04, 0.4);
        private readonly double _link = pad ? random.Between(0.6, 0.8) : random.Between(0.85, 0.93);

        public void Wait(TruthDay day, double lengthS) => day.Add(Mode.NoLoad, lengthS, Waiting);

        public void Attempts(TruthDay day, int count)
        {
            for (int i = 0; i < count; i++)
            {
                double height = plateauW * random.Between(0.4, 1);
                day.Add(Mode.NoLoad, random.Between(3, 40), _ => height);
                day.Add(Mode.NoLoad, random.Between(5, 40), Waiting);
            }
        }

        public void Charge(TruthDay day, bool heat)
        {
            double storedW = (plateauW - _overheadW) * _link;
            double wanted = batteryWh * 3600 * random.Between(0.5, 1);
            double tau = random.Between(0.15, 0.35) * wanted / storedW;
            double cutOff = random.Between(0.03, 0.1);
            double constantS = Math.Max(600, (wanted / storedW) - (tau * (1 - cutOff)));
            double rise = random.Between(0.03, 0.12);
            double ramp = random.Between(1, 8);
            double In(double stored) => _overheadW + (stored / _link);
            double Constant(double t) => In(storedW * (1 - (rise * (1 - (t / constantS)))));
            double hotFrom = heat ? random.Between(0.2, 0.5) * constantS : constantS;
            double hotTo = heat ? Math.Min(constantS, hotFrom + random.Between(300, 1500)) : constantS;
            bool pause = heat && random.Chance(0.4);
            double low = pause ? _overheadW : plateauW * random.Between(0.45, 0.7);
            hotTo = pause ? Math.Min(hotTo, hotFrom + random.Between(30, 400)) : hotTo;
            day.Add(Mode.Charge, constantS, t => t >= hotFrom && t < hotTo ? low : Constant(t) * Math.Min(1, (t + 0.2) / ramp));
            day.Add(Mode.Charge, tau * Math.Log(1 / cutOff), t => In(storedW * Math.Exp(-t / tau)));
        }

        public void Keep(TruthDay day, double lengthS)
        {
            double level = _overheadW + _keepExtraW;
            bool topUps = random.Chance(0.5);
            double everyS = random.Between(1200, 3600);
            double topUpS = random.Between(60, 200);
            double height = level + (plateauW * random.Between(0.2, 0.5));
            double budget = 0.02 * batteryWh * 3600 / Math.Max(0.1, height - level);
            topUpS = Math.Min(topUpS, budget);
            day.Add(Mode.Maintenance, lengthS, t => topUps && t % everyS > everyS - topUpS ? height : level);
        }

        private double Waiting(double t) => _waitW + (_pulseW > 0 && t % _pulseEveryS < _pulseS ? _pulseW : 0);
    }
}
