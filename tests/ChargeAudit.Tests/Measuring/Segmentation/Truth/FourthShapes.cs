using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation.Truth;

/// <summary>
/// Days of a device that is handled: a first trickle, charges that end without a taper, in stages, in a staircase or along a hyperbola,
/// heat that comes and goes, a pad that restarts or loses its device, a device removed too early. Power is laid on a fixed grid of time
/// and a meter reads the grid. It shares no code with the other families and none with the mode finder. Once kept apart for a verdict; the
/// mode finder was mended with what it showed.
/// </summary>
public static class FourthShapes
{
    public static TruthLog Make(int number)
    {
        var dice = new Dice(0x9D2C5680A1B3UL + (104729UL * (ulong)number));
        double[] intervals = [0.1, 0.2, 0.5, 1, 1, 1, 1, 2, 5, 10, 15, 30, 60];
        double interval = intervals[dice.Below(intervals.Length)];
        var grid = new Grid(interval >= 1 ? 0.05 : interval / 5);
        bool pad = dice.OneIn(2);
        double topW = Math.Exp(dice.From(Math.Log(2.5), Math.Log(pad ? 18 : 45)));
        var charger = new Charger(dice, grid, pad, topW);
        double batteryWh = Math.Clamp(topW * dice.From(0.7, 2.2), 1.5, 30);
        int kind = dice.Below(10);
        string name = "handled";
        if (kind == 0)
        {
            name = "waits";
            charger.Idle(dice.From(1800, 18000));
        }
        else
        {
            if (dice.OneIn(4))
            {
                grid.Lay(Mode.Off, dice.From(300, 3000), _ => 0);
            }

            if (kind == 1)
            {
                name = "begun before";
            }
            else
            {
                charger.Idle(dice.From(600, 3600));
                charger.TryOut(dice.Below(4));
            }

            charger.Charge(batteryWh, kind == 1 ? dice.From(0.2, 0.6) : 0, kind == 2);
            if (kind == 2)
            {
                name = "cut off";
            }
            else
            {
                charger.Keep(batteryWh, dice.From(900, 9000));
                charger.Idle(dice.From(2400, 6000));
                if (kind >= 8)
                {
                    name = "two devices";
                    double second = batteryWh * dice.From(0.5, 1);
                    charger.Charge(second, 0, false);
                    charger.Keep(second, dice.From(900, 6000));
                }
            }
        }

        return grid.Read($"{name} {number}", dice, interval, batteryWh, topW);
    }

    /// <summary>A charger with what lies on it.</summary>
    private sealed class Charger
    {
        private readonly Dice _dice;
        private readonly Grid _grid;
        private readonly bool _pad;
        private readonly double _idleW;
        private readonly double _standingW;
        private readonly double _gain;
        private readonly double _curve;
        private readonly double _mostW;
        private readonly double _ownW;
        private readonly double _beatS;
        private readonly double _beatW;
        private bool _taken;

        public Charger(Dice dice, Grid grid, bool pad, double topW)
        {
            (_dice, _grid, _pad) = (dice, grid, pad);
            _idleW = pad ? dice.From(0.06, 0.35) : dice.From(0.015, 0.12);
            _standingW = pad ? _idleW + (topW * dice.From(0.02, 0.06)) : _idleW;
            _gain = pad ? dice.From(1.25, 1.6) : dice.From(1.06, 1.18);
            _curve = dice.From(0, 0.004);
            _mostW = (topW - _standingW) / _gain / (1 + (_curve * topW));
            _ownW = _mostW * dice.From(0.012, 0.05);
            _beatS = dice.From(0.8, 7);
            _beatW = pad ? dice.From(0.4, 2.2) : 0;
        }

        public void Idle(double lengthS)
        {
            double pulse = _dice.From(0.05, 0.2);
            _grid.Lay(Mode.NoLoad, lengthS, t => _idleW + (t - (_beatS * Math.Floor(t / _beatS)) < pulse ? _beatW : 0));
        }

        public void TryOut(int times)
        {
            for (int i = 0; i < times; i++)
            {
                double height = In(_mostW * _dice.From(0.3, 0.9));
                _grid.Lay(Mode.NoLoad, _dice.From(2, 30), _ => height);
                Idle(_dice.From(8, 60));
            }
        }

        /// <summary>Charges second by second from a state of 0 to 1, or from where the log begins; a log that is cut ends on the
        /// way.</summary>
        public void Charge(double batteryWh, double from, bool cut)
        {
            double stored = from * batteryWh * 3600;
            double until = (cut ? _dice.From(0.3, 0.55) : 1) * batteryWh * 3600;
            int end = _dice.Below(6);
            double trickle = from == 0 && _dice.OneIn(4) ? _mostW * _dice.From(0.15, 0.4) : 0;
            double trickleS = _dice.From(180, 900);
            double knee = end == 1 ? 1 : _dice.From(0.6, 0.8);
            double lastStage = _dice.From(0.3, 0.6);
            double stop = _dice.From(0.05, 0.13);
            double sharp = _dice.From(1.5, 4);
            int stairs = 3 + _dice.Below(4);
            double hotEveryS = _pad && _dice.OneIn(3) ? _dice.From(700, 1800) : double.PositiveInfinity;
            double cool = _dice.From(0.45, 0.75);
            double lostAt = _pad && _dice.OneIn(3) ? _dice.From(0.15, 0.5) : 9;
            _taken = !cut && _dice.OneIn(8);
            double takenAt = _taken ? _dice.From(0.35, 0.58) : 9;
            var watts = new List<double>();
            while (stored < until)
            {
                double state = stored / (batteryWh * 3600);
                double t = watts.Count;
                if (state >= takenAt)
                {
                    break;
                }

                if (state >= lostAt)
                {
                    lostAt = 9;
                    Lose(watts);
                    continue;
                }

                double into = _mostW * (0.93 + (0.07 * Math.Min(1, state / 0.8)));
                if (t < trickleS && trickle > 0)
                {
                    into = trickle;
                }
                else if (state < knee)
                {
                    into *= t - (hotEveryS * Math.Floor(t / hotEveryS)) > 0.65 * hotEveryS ? cool : 1;
                }
                else
                {
                    double x = (state - knee) / (1 - knee);
                    into = _mostW * (end switch
                    {
                        2 => lastStage,
                        3 => Math.Pow(stop / 0.7, Math.Floor(x * stairs) / (stairs - 1)) * 0.7,
                        4 => 1 - (0.82 * x),
                        _ => Hyperbola(x, sharp),
                    });
                    if (end is 0 or 5 && into < stop * _mostW)
                    {
                        break;
                    }
                }

                stored += into;
                watts.Add(In(into + _ownW) * (from > 0 ? 1 : Math.Min(1, 0.3 + (0.25 * t))));
            }

            _grid.Lay(Mode.Charge, watts.Count, t => watts[Math.Min(watts.Count - 1, (int)t)]);
        }

        /// <summary>Power against state, falling as the square of a hyperbola.</summary>
        private static double Hyperbola(double x, double sharp) => Math.Pow(1 / (1 + (sharp * x)), 2) * (1 - x) / (1 - (0.3 * x));

        /// <summary>The device is not seen for a while, or the pad starts afresh; then the charge goes on.</summary>
        private void Lose(List<double> watts)
        {
            int dark = _dice.OneIn(2) ? 1 + _dice.Below(8) : 0;
            int waiting = 4 + _dice.Below(dark > 0 ? 6 : 150);
            watts.AddRange(Enumerable.Repeat(0.0, dark));
            watts.AddRange(Enumerable.Range(0, waiting).Select(i => _idleW + (i % 5 == 0 ? 0.3 * _beatW : 0)));
            watts.AddRange([In(0.2 * _mostW), In(0.5 * _mostW), In(0.8 * _mostW)]);
        }

        /// <summary>Keeps a full device on the charger; one that was removed is not there to keep.</summary>
        public void Keep(double batteryWh, double lengthS)
        {
            if (_taken)
            {
                return;
            }

            bool fromBattery = _dice.OneIn(3);
            double everyS = _dice.From(1500, 4000);
            double top = _mostW * _dice.From(0.25, 0.8);
            double topS = Math.Min(600, batteryWh * 3600 * _dice.From(0.01, 0.03) / top);
            double wakes = _dice.OneIn(2) ? _ownW * _dice.From(0.5, 2) : 0;
            double wakeEveryS = _dice.From(200, 900);
            _grid.Lay(Mode.Maintenance, lengthS, t =>
            {
                double phase = t - (everyS * Math.Floor(t / everyS));
                double awake = t - (wakeEveryS * Math.Floor(t / wakeEveryS)) < 20 ? wakes : 0;
                return In(fromBattery && phase > everyS - topS ? top : _ownW + awake);
            });
        }

        private double In(double intoW) => _standingW + (_gain * intoW * (1 + (_curve * intoW)));
    }

    /// <summary>Power and mode on a fixed grid of time.</summary>
    private sealed class Grid(double stepS)
    {
        private readonly List<float> _watts = [];
        private readonly List<(Mode Mode, int From)> _marks = [];

        public void Lay(Mode mode, double lengthS, Func<double, double> wattsAt)
        {
            if (_marks.Count == 0 || _marks[^1].Mode != mode)
            {
                _marks.Add((mode, _watts.Count));
            }

            int cells = (int)Math.Round(lengthS / stepS);
            for (int i = 0; i < cells; i++)
            {
                _watts.Add((float)wattsAt((i + 0.5) * stepS));
            }
        }

        public TruthLog Read(string name, Dice dice, double intervalS, double batteryWh, double topW)
        {
            int each = (int)Math.Round(intervalS / stepS);
            bool averages = dice.OneIn(2);
            double noise = topW * Math.Exp(dice.From(Math.Log(0.0002), Math.Log(0.004)));
            double wander = topW * dice.From(0, 0.001);
            double[] steps = [0, 0, 0.001, 0.01, topW > 10 ? 0.1 : 0.01];
            double step = steps[dice.Below(steps.Length)];
            bool cutDown = dice.OneIn(2);
            bool holes = dice.OneIn(5);
            var times = new List<double>();
            var powers = new List<double>();
            double slow = 0;
            for (int cell = each; cell < _watts.Count; cell += each)
            {
                slow += (-slow * Math.Min(1, intervalS / 300)) + (wander * dice.Bell() * Math.Sqrt(Math.Min(1, intervalS / 150)));
                if (holes && times.Count > 1 && dice.OneIn(300))
                {
                    continue;
                }

                double seen = 0;
                for (int k = averages ? cell - each : cell; k < (averages ? cell : cell + 1); k++)
                {
                    seen += _watts[k] / (averages ? each : 1);
                }

                seen += seen > 0 ? (noise * dice.Bell()) + slow : 0;
                seen = step == 0 ? seen : step * (cutDown ? Math.Floor(seen / step) : Math.Floor((seen / step) + 0.5));
                times.Add((cell - each) * stepS);
                powers.Add(seen);
            }

            int last = each + (int)Math.Round(times[^1] / stepS);
            var spans = new List<TruthSpan>();
            for (int m = 0; m < _marks.Count; m++)
            {
                int from = Math.Max(each, _marks[m].From);
                int to = Math.Min(last, m + 1 < _marks.Count ? _marks[m + 1].From : _watts.Count);
                if (to > from)
                {
                    double energy = 0;
                    for (int k = from; k < to; k++)
                    {
                        energy += _watts[k] * stepS;
                    }

                    spans.Add(new TruthSpan(_marks[m].Mode, (from - each) * stepS, (to - each) * stepS, energy));
                }
            }

            return new TruthLog(name, intervalS, batteryWh, topW, averages, [.. times], [.. powers], spans);
        }
    }

    /// <summary>Numbers from a seed that stay the same for ever. <i>Source:</i> S. Vigna, ACM Transactions on Mathematical Software 42
    /// (2016) 30 (xorshift64*).</summary>
    private sealed class Dice(ulong seed)
    {
        private ulong _state = seed;

        public int Below(int sides) => (int)(sides * Next());

        public bool OneIn(int sides) => Below(sides) == 0;

        public double From(double low, double high) => low + ((high - low) * Next());

        /// <summary>The sum of twelve uniform random numbers less six: mean 0, standard deviation 1.</summary>
        public double Bell()
        {
            double sum = -6;
            for (int i = 0; i < 12; i++)
            {
                sum += Next();
            }

            return sum;
        }

        private double Next()
        {
            unchecked
            {
                _state ^= _state >> 12;
                _state ^= _state << 25;
                _state ^= _state >> 27;
                return ((_state * 0x2545F4914F6CDD1DUL) >> 11) * (1.0 / (1UL << 53));
            }
        }
    }
}
