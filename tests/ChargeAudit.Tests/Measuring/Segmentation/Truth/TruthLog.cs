using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation.Truth;

/// <summary>A stretch of an invented day whose mode is known.</summary>
public sealed record TruthSpan(Mode Mode, double StartS, double EndS, double EnergyJ);

/// <summary>An invented log with what really happened beside it.</summary>
public sealed record TruthLog(
    string Name, double IntervalS, double BatteryWh, double PlateauW, bool Averages, double[] TimeS, double[] PowerW,
        IReadOnlyList<TruthSpan> Spans)
{
    public PowerEnvelope Envelope()
    {
        var envelope = PowerEnvelope.ForInterval(IntervalS);
        for (int i = 0; i < TimeS.Length; i++)
        {
            envelope.AddReading(TimeS[i], PowerW[i]);
            if (i > 0)
            {
                double from = Averages ? PowerW[i] : PowerW[i - 1];
                envelope.AddInterval(new PowerInterval(TimeS[i - 1], TimeS[i], from, PowerW[i]));
            }
        }

        return envelope;
    }
}

/// <summary>Numbers from a seed that stay the same for ever. <i>Source:</i> G. Steele, D. Lea, C. Flood, OOPSLA 2014 (the 64-bit mixing
/// step).</summary>
public sealed class TruthRandom(ulong seed)
{
    private ulong _state = seed;

    public double Unit()
    {
        unchecked
        {
            _state += 0x9E3779B97F4A7C15UL;
            ulong z = _state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return ((z ^ (z >> 31)) >> 11) * (1.0 / (1UL << 53));
        }
    }

    public double Between(double low, double high) => low + ((high - low) * Unit());

    public double LogBetween(double low, double high) => low * Math.Exp(Unit() * Math.Log(high / low));

    public bool Chance(double probability) => Unit() < probability;

    public int Whole(int low, int highExclusive) => low + (int)((highExclusive - low) * Unit());

    public T Of<T>(params ReadOnlySpan<T> choices) => choices[Whole(0, choices.Length)];

    public double Gauss() => Math.Sqrt(-2 * Math.Log(1 - Unit())) * Math.Cos(2 * Math.PI * Unit());
}

/// <summary>Power as pieces laid end to end; each piece knows its mode and its power at a time from its own start.</summary>
public sealed class TruthDay
{
    private readonly List<(Mode Mode, double StartS, double EndS, Func<double, double> PowerW)> _pieces = [];

    public double EndS => _pieces.Count == 0 ? 0 : _pieces[^1].EndS;

    public void Add(Mode mode, double lengthS, Func<double, double> powerW)
    {
        if (lengthS > 0)
        {
            _pieces.Add((mode, EndS, EndS + lengthS, powerW));
        }
    }

    /// <summary>The log that a meter writes of the day.</summary>
    public TruthLog Log(string name, TruthRandom random, TruthMeter meter, double batteryWh, double plateauW)
    {
        double offset = random.Between(0, meter.IntervalS);
        var times = new List<double>();
        var powers = new List<double>();
        int piece = 0;
        double At(double t)
        {
            while (piece < _pieces.Count - 1 && t >= _pieces[piece].EndS)
            {
                piece++;
            }

            while (piece > 0 && t < _pieces[piece].StartS)
            {
                piece--;
            }

            return _pieces[piece].PowerW(t - _pieces[piece].StartS);
        }

        double first = double.NaN;
        for (double t = offset; t < EndS; t += meter.IntervalS * (1 + (meter.Jitter * (random.Unit() - 0.5))))
        {
            double p = 0;
            if (meter.Averages)
            {
                const int Parts = 16;
                for (int k = 0; k < Parts; k++)
                {
                    p += At(Math.Max(0, t - (meter.IntervalS * (k + 0.5) / Parts))) / Parts;
                }
            }
            else
            {
                p = At(t);
            }

            p += random.Gauss() * (meter.NoiseW + (meter.NoiseShare * Math.Abs(p)));
            p = meter.StepW > 0 ? Math.Round(p / meter.StepW) * meter.StepW : p;
            first = double.IsNaN(first) ? t : first;
            times.Add(t - first);
            powers.Add(p);
        }

        return new TruthLog(name, meter.IntervalS, batteryWh, plateauW, meter.Averages, [.. times], [.. powers],
            Spans(first, times[^1], meter.IntervalS));
    }

    private List<TruthSpan> Spans(double firstS, double lengthS, double intervalS)
    {
        var spans = new List<TruthSpan>();
        foreach (var (mode, startS, endS, powerW) in _pieces)
        {
            double from = Math.Clamp(startS - firstS, 0, lengthS);
            double to = Math.Clamp(endS - firstS, 0, lengthS);
            if (to <= from)
            {
                continue;
            }

            int steps = Math.Max(50, (int)Math.Ceiling((to - from) / Math.Clamp(intervalS / 5, 0.05, 1)));
            double width = (to - from) / steps;
            double energy = 0;
            for (int i = 0; i < steps; i++)
            {
                energy += powerW(from + firstS - startS + ((i + 0.5) * width)) * width;
            }

            if (spans.Count > 0 && spans[^1].Mode == mode && Math.Abs(spans[^1].EndS - from) < 1e-6)
            {
                spans[^1] = spans[^1] with { EndS = to, EnergyJ = spans[^1].EnergyJ + energy };
            }
            else
            {
                spans.Add(new TruthSpan(mode, from, to, energy));
            }
        }

        return spans;
    }
}

/// <summary>How a meter samples.</summary>
public sealed record TruthMeter(double IntervalS, double Jitter, bool Averages, double NoiseW, double NoiseShare, double StepW);
