using System.Globalization;
using System.Text;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>What sort of log is made.</summary>
public enum RoughKind
{
    /// <summary>Voltage and current at the adapter's output, by cable: nothing flows when idle.</summary>
    UsbProduct,

    /// <summary>Power at the adapter's output into a pad that waits with short pulses.</summary>
    UsbPad,

    /// <summary>Power at the wall in steps of 10 mW.</summary>
    Wall,

    /// <summary>Power at the wall in steps of 0.1 W.</summary>
    WallCoarse,

    /// <summary>Power without any scatter.</summary>
    NoScatter,

    /// <summary>A pad that pauses for ten minutes.</summary>
    Pause,

    /// <summary>A cable at the adapter's output that pauses for ten minutes at exactly nothing.</summary>
    ZeroPause,

    /// <summary>A charger that waits at a steady power, on a coarse meter.</summary>
    SteadyWaiting,

    /// <summary>A pad that waits with pulses of one row.</summary>
    PulsedWaiting,

    /// <summary>A rush of current in the row of plugging in.</summary>
    Rush,

    /// <summary>A charger that holds its power to the last digit, then a fall that scatters.</summary>
    HeldPower,

    /// <summary>A row a minute.</summary>
    SlowRows,
}

/// <summary>
/// A log of this class's own making, row by row so that a test can damage it: a waiting level, a charge whose power wanders and then falls
/// off, a little power when full. Meter with a gain and an offset anywhere within 0.5 % + 5 mW. Shares nothing with the simulator.
/// </summary>
internal sealed class RoughCharge
{
    private readonly Random _random;
    private readonly RoughKind _kind;
    private readonly double _idleW;
    private readonly double _plateauW;
    private readonly double _bendS;
    private readonly double _fallS;
    private readonly double _wanderS;
    private readonly double _pauseFromS;

    /// <summary>Makes the log of a kind.</summary>
    public RoughCharge(RoughKind kind, int seed)
    {
        _random = new Random(seed);
        _kind = kind;
        _plateauW = 5 + (10 * _random.NextDouble());
        _fallS = 600 + (900 * _random.NextDouble());
        _bendS = 2400 + (2400 * _random.NextDouble());
        _wanderS = 300 + (900 * _random.NextDouble());
        _pauseFromS = 300 + 600 + (900 * _random.NextDouble());
        _idleW = kind is RoughKind.UsbProduct or RoughKind.ZeroPause ? 0 : 0.05 + (0.3 * _random.NextDouble());
        IntervalS = kind == RoughKind.SlowRows ? 60 : new[] { 1, 2, 5, 10 }[_random.Next(4)];
        double gain = 1 + (0.005 * ((2 * _random.NextDouble()) - 1));
        double offsetW = 0.005 * ((2 * _random.NextDouble()) - 1);
        double lastS = _bendS + 300 + (4 * _fallS) + 900;
        double noise = kind == RoughKind.NoScatter ? 0 : 0.002 + (0.006 * _random.NextDouble());
        double step = kind switch { RoughKind.Wall => 0.01, RoughKind.WallCoarse or RoughKind.SteadyWaiting => 0.1, _ => 0.001 };
        for (double t = 0; t <= lastS; t += IntervalS)
        {
            double power = Power(t);
            TrueJ += t > 0 ? IntervalS * 0.5 * (power + Power(t - IntervalS)) : 0;
            double scatter = kind == RoughKind.HeldPower && t < 300 + _bendS ? 0 : noise;
            double read = (power * gain * (1 + (scatter * Normal())))
                + (power > 0 ? offsetW + (scatter > 0 && kind != RoughKind.SteadyWaiting ? 0.002 * Normal() : 0) : 0);
            TimesS.Add(t);
            PowersW.Add(Math.Max(0, Math.Round(read / step) * step));
            VoltsV.Add(kind == RoughKind.UsbProduct ? 9 : double.NaN);
        }
    }

    public double IntervalS { get; }

    /// <summary>True energy, but for the shape of the power between rows. [J]</summary>
    public double TrueJ { get; private set; }

    public List<double> TimesS { get; } = [];

    public List<double> PowersW { get; } = [];

    public List<double> VoltsV { get; } = [];

    public bool AtTheWall => _kind is RoughKind.Wall or RoughKind.WallCoarse or RoughKind.SteadyWaiting or RoughKind.Rush
        or RoughKind.SlowRows;

    /// <summary>A row in the middle of the charge at full power.</summary>
    public int RowInCharge(double share) => (int)((300 + (share * _bendS)) / IntervalS);

    /// <summary>The table.</summary>
    public string Text()
    {
        bool product = !double.IsNaN(VoltsV[0]);
        var text = new StringBuilder(product ? "time (s),voltage (V),current (A)\n" : "time (s),power (W)\n");
        for (int i = 0; i < TimesS.Count; i++)
        {
            string reading = product
                ? InvariantText.Of($"{VoltsV[i]:F3},{PowersW[i] / 9:F4}")
                : PowersW[i].ToString("F4", CultureInfo.InvariantCulture);
            text.Append(CultureInfo.InvariantCulture, $"{TimesS[i]},{reading}\n");
        }

        return text.ToString();
    }

    private double Power(double t)
    {
        double s = t - 300;
        bool pulse = _kind is RoughKind.UsbPad or RoughKind.PulsedWaiting && (int)(t / IntervalS) % 17 == 0;
        double waits = pulse ? 2.1 : _idleW;
        if (s < 0 || _kind is RoughKind.SteadyWaiting or RoughKind.PulsedWaiting)
        {
            return waits;
        }

        if (_kind == RoughKind.Rush && s < IntervalS)
        {
            return 2 * _plateauW;
        }

        if (_kind is RoughKind.Pause or RoughKind.ZeroPause && t >= _pauseFromS && t < _pauseFromS + 600)
        {
            return _idleW;
        }

        double wander = _kind == RoughKind.HeldPower ? 1 : 1 + (0.03 * Math.Sin(t / _wanderS));
        double charge = s < _bendS ? _plateauW * wander : _plateauW * wander * Math.Exp(-(s - _bendS) / _fallS);
        return Math.Max(waits, charge);
    }

    private double Normal() => Enumerable.Range(0, 12).Sum(_ => _random.NextDouble()) - 6;
}
