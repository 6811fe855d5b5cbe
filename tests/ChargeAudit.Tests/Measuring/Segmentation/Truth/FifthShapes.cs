using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation.Truth;

/// <summary>
/// Days from a catalogue: each charge is one of eight curves given as knots (share of its time, share of its power), the time between knots
/// filled smoothly; a device's load wanders on it, and a plan says what happens before, during and after. Written after
/// <see cref="FourthShapes"/> had been looked at and before the mode finder was changed for it; kept apart for the verdict, shares no code
/// with the other families and none with the mode finder.
/// </summary>
public static class FifthShapes
{
    private static readonly (double Time, double Power)[][] Catalogue =
    [
        [(0, 0.94), (0.55, 1), (0.62, 0.86), (0.7, 0.62), (0.8, 0.38), (0.9, 0.22), (1, 0.1)],
        [(0, 0.97), (0.3, 1), (0.38, 0.7), (0.6, 0.68), (0.68, 0.5), (0.82, 0.27), (1, 0.12)],
        [(0, 1), (0.2, 0.98), (0.27, 0.72), (0.5, 0.71), (0.57, 0.52), (0.75, 0.5), (0.87, 0.24), (1, 0.09)],
        [(0, 0.9), (0.1, 0.95), (0.75, 1), (0.82, 0.7), (0.9, 0.35), (1, 0.15)],
        [(0, 0.96), (0.5, 1), (0.75, 0.6), (1, 0.16)],
        [(0, 0.95), (0.99, 1), (1, 1)],
        [(0, 0.96), (0.68, 1), (0.685, 0.5), (0.995, 0.48), (1, 0.48)],
        [(0, 0.28), (0.09, 0.3), (0.1, 0.96), (0.6, 1), (0.7, 0.7), (0.85, 0.32), (1, 0.11)],
    ];

    public static TruthLog Make(int number)
    {
        var luck = new Luck(unchecked((uint)(number * 2654435761L)));
        bool pad = luck.Percent(50);
        double top = 2.5 * Math.Pow((pad ? 17 : 45) / 2.5, luck.Part());
        double wh = Math.Clamp(top * luck.Range(0.6, 2), 1.5, 30);
        double[] intervals = [0.1, 0.25, 0.5, 1, 1, 1, 1, 2, 4, 10, 20, 30, 60];
        double every = intervals[luck.Up(intervals.Length)];
        var scene = new Scene(luck, pad, top, every < 1 ? every / 4 : 0.1);
        int plan = luck.Up(12);
        if (plan == 0)
        {
            scene.Empty(luck.Range(2000, 16000));
            return scene.Metered($"nothing on it {number}", every, wh);
        }

        if (luck.Percent(20))
        {
            scene.Dark(luck.Range(400, 2500));
        }

        bool begun = plan == 1;
        if (!begun)
        {
            scene.Empty(luck.Range(700, 4000));
            for (int i = luck.Up(3); i > 0; i--)
            {
                scene.Touch();
                scene.Empty(luck.Range(10, 80));
            }
        }

        int devices = plan >= 10 ? 2 : 1;
        for (int device = 0; device < devices; device++)
        {
            bool cut = plan == 2;
            scene.Charge(device == 0 ? wh : wh * luck.Range(0.6, 1), begun ? luck.Range(0.1, 0.5) : 0, cut ? luck.Range(0.3, 0.6) : 1);
            if (cut)
            {
                break;
            }

            scene.Full(wh, luck.Range(1200, 10000));
            if (device + 1 < devices || luck.Percent(60))
            {
                scene.Empty(luck.Range(2400, 5000));
            }
        }

        return scene.Metered($"plan {plan} {number}", every, wh);
    }

    private sealed class Scene
    {
        private readonly Luck _luck;
        private readonly bool _pad;
        private readonly double _top;
        private readonly double _cellS;
        private readonly double _emptyW;
        private readonly double _fullW;
        private readonly double _blinkW;
        private readonly double _blinkEveryS;
        private readonly double _loadW;
        private readonly List<double> _power = [];
        private readonly List<Mode> _mode = [];

        public Scene(Luck luck, bool pad, double top, double cellS)
        {
            (_luck, _pad, _top, _cellS) = (luck, pad, top, cellS);
            _emptyW = pad ? luck.Range(0.07, 0.32) : luck.Range(0.02, 0.1);
            _fullW = _emptyW + (top * (pad ? luck.Range(0.03, 0.08) : luck.Range(0.008, 0.05)));
            _blinkW = pad ? luck.Range(0.3, 2) : 0;
            _blinkEveryS = luck.Range(0.7, 5);
            _loadW = top * luck.Range(0, 0.03);
        }

        public void Dark(double seconds) => Append(Mode.Off, seconds, _ => 0);

        public void Empty(double seconds) =>
            Append(Mode.NoLoad, seconds, t => _emptyW + (t / _blinkEveryS % 1 < 0.12 / _blinkEveryS ? _blinkW : 0));

        public void Touch()
        {
            double height = _top * _luck.Range(0.35, 0.95);
            Append(Mode.NoLoad, _luck.Range(3, 25), _ => height);
        }

        public void Charge(double wh, double fromShare, double toShare)
        {
            var curve = Catalogue[_luck.Up(Catalogue.Length)];
            double mean = Enumerable.Range(0, 1000).Average(i => Smooth(curve, (i + 0.5) / 1000));
            double whole = wh * 3600 / (mean * (_top - _fullW) * 0.75);
            double least = _fullW + (0.02 * _top);
            bool hot = _pad && _luck.Percent(30);
            double hotAt = _luck.Range(0.15, 0.35) * whole;
            double hotFor = _luck.Range(300, 900);
            double hotTo = _luck.Range(0.45, 0.75);
            bool gone = _pad && _luck.Percent(25);
            double goneAt = _luck.Range(0.12, 0.4) * whole;
            double goneFor = _luck.Percent(50) ? _luck.Range(3, 15) : _luck.Range(20, 240);
            double busy = 0;
            Append(Mode.Charge, whole * (toShare - fromShare), t =>
            {
                double at = t + (fromShare * whole);
                busy += ((_luck.Part() - 0.5) * 0.02) - (busy * 0.0008 * _cellS);
                if (gone && at >= goneAt && at < goneAt + goneFor)
                {
                    return goneFor < 15 && at < goneAt + (0.5 * goneFor) ? 0 : _emptyW;
                }

                double share = Smooth(curve, at / whole) * (hot && at >= hotAt && at < hotAt + hotFor ? hotTo : 1);
                return Math.Max(least, (share * _top) + (_loadW * Math.Tanh(busy)));
            });
        }

        public void Full(double wh, double seconds)
        {
            bool refills = _luck.Percent(35);
            double every = _luck.Range(1300, 3600);
            double height = _fullW + (_top * _luck.Range(0.2, 0.7));
            double lasts = Math.Min(500, wh * 3600 * _luck.Range(0.008, 0.025) / height);
            Append(Mode.Maintenance, seconds, t => refills && t % every > every - lasts ? height : _fullW);
        }

        /// <summary>Cubic steps between the knots, so that the curve has no corners.</summary>
        private static double Smooth((double Time, double Power)[] curve, double at)
        {
            int k = 1;
            while (k < curve.Length - 1 && at > curve[k].Time)
            {
                k++;
            }

            double x = Math.Clamp((at - curve[k - 1].Time) / (curve[k].Time - curve[k - 1].Time), 0, 1);
            return curve[k - 1].Power
                + ((curve[k].Power - curve[k - 1].Power) * (curve[k].Power > curve[k - 1].Power ? x : x * (1.5 - (0.5 * x * x))));
        }

        private void Append(Mode mode, double seconds, Func<double, double> power)
        {
            for (int n = (int)(seconds / _cellS), i = 0; i < n; i++)
            {
                _power.Add(power(i * _cellS));
                _mode.Add(mode);
            }
        }

        public TruthLog Metered(string name, double everyS, double wh)
        {
            int stride = (int)Math.Round(everyS / _cellS);
            bool means = _luck.Percent(50);
            double scatter = _top * Math.Pow(10, _luck.Range(-3.7, -2.5));
            double share = Math.Pow(10, _luck.Range(-3.5, -2.3));
            double lattice = _luck.Percent(50) ? 0 : _luck.Percent(50) ? 0.001 : 0.01;
            int shift = _luck.Up(stride);
            var times = new List<double>();
            var readings = new List<double>();
            for (int at = stride + shift; at < _power.Count; at += stride)
            {
                double value = _power[at];
                if (means)
                {
                    value = 0;
                    for (int back = 1; back <= stride; back++)
                    {
                        value += _power[at - back];
                    }

                    value /= stride;
                }

                value += value == 0 ? 0 : _luck.Normal() * Math.Sqrt((scatter * scatter) + (share * share * value * value));
                times.Add((at - stride - shift) * _cellS);
                readings.Add(lattice > 0 ? lattice * Math.Round(value / lattice) : value);
            }

            var spans = new List<TruthSpan>();
            int begin = stride + shift;
            int end = begin + (int)Math.Round(times[^1] / _cellS);
            for (int from = begin, to = begin; from < end; from = to)
            {
                double energy = 0;
                while (to < end && _mode[to] == _mode[from])
                {
                    energy += _power[to++] * _cellS;
                }

                spans.Add(new TruthSpan(_mode[from], (from - begin) * _cellS, (to - begin) * _cellS, energy));
            }

            return new TruthLog(name, everyS, wh, _top, means, [.. times], [.. readings], spans);
        }
    }

    /// <summary>Numbers from a seed that stay the same for ever. <i>Source:</i> M. E. O'Neill, Harvey Mudd College report HMC-CS-2014-0905
    /// (PCG, 32 bits of output).</summary>
    private sealed class Luck
    {
        private ulong _state;

        public Luck(uint seed)
        {
            _state = unchecked(seed + 1442695040888963407UL);
            Part();
            Part();
        }

        public double Part()
        {
            unchecked
            {
                ulong old = _state;
                _state = (old * 6364136223846793005UL) + 1442695040888963407UL;
                uint mixed = (uint)(((old >> 18) ^ old) >> 27);
                int turn = (int)(old >> 59);
                return ((mixed >> turn) | (mixed << ((-turn) & 31))) / 4294967296.0;
            }
        }

        public bool Percent(double chance) => 100 * Part() < chance;

        public int Up(int below) => (int)(below * Part());

        public double Range(double low, double high) => low + ((high - low) * Part());

        /// <summary>Standard normal, by the polar method.</summary>
        public double Normal()
        {
            while (true)
            {
                double x = Range(-1, 1);
                double y = Range(-1, 1);
                double square = (x * x) + (y * y);
                if (square is > 0 and < 1)
                {
                    return x * Math.Sqrt(-2 * Math.Log(square) / square);
                }
            }
        }
    }
}
