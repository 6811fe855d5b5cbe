using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Reports;

/// <summary>A power curve that looks like a charge, with its envelope.</summary>
internal sealed class InventedLog
{
    private readonly double _intervalS;
    private readonly List<ModeSpan> _modes = [];
    private readonly PowerEnvelope _envelope;
    private readonly int _samples;
    private double _peakW;

    private InventedLog(int samples, double intervalS)
    {
        _samples = samples;
        _intervalS = intervalS;
        _envelope = PowerEnvelope.ForInterval(intervalS);
    }

    public ModeSpan Charge => _modes.First(m => m.Mode == ChargeAudit.Measuring.Segmentation.Mode.Charge);

    public static InventedLog Of(MethodKind kind, int number, MeasuringPoint point, int samples, double intervalS)
    {
        var log = new InventedLog(samples, intervalS);
        bool pad = kind == MethodKind.Inductive;
        double lengthS = samples * intervalS;
        double startS = 0.02 * lengthS;
        double endS = (pad ? 0.86 : 0.68) * lengthS * (1 + (0.004 * number));
        double plateauW = (pad ? 11.5 : 10.0) * (point == MeasuringPoint.Wall ? 1 : 0.86);
        double idleW = (pad ? 1.18 : 0.22) * (point == MeasuringPoint.Wall ? 1 : 0.7);
        double noLoadW = pad ? 0.31 : 0.05;
        uint state = (uint)((number * 7919) + (int)kind + (10 * (int)point) + 1);
        log.Fill(t =>
        {
            state = unchecked((state * 1664525) + 1013904223);
            double noise = ((state >> 8) / (double)(1 << 24)) - 0.5;
            double kneeS = startS + (0.45 * (endS - startS));
            return t < startS ? noLoadW
                : t < kneeS ? plateauW + (noise * (pad ? 1.4 : 0.3))
                : t < endS ? idleW + ((plateauW - idleW) * Math.Exp(-3.2 * (t - kneeS) / (endS - kneeS))) + (noise * 0.3)
                : idleW + (noise * 0.04);
        });
        log._modes.Add(new ModeSpan(ChargeAudit.Measuring.Segmentation.Mode.NoLoad, 0, startS, 0, 2));
        log._modes.Add(new ModeSpan(ChargeAudit.Measuring.Segmentation.Mode.Charge, startS, endS, 2, 15));
        log._modes.Add(new ModeSpan(ChargeAudit.Measuring.Segmentation.Mode.Maintenance, endS, (samples - 1) * intervalS, 15, 0));
        return log;
    }

    public static InventedLog Waiting(int samples, double intervalS)
    {
        var log = new InventedLog(samples, intervalS);
        log.Fill(t => (long)(t / intervalS) % 6 == 0 ? 1.6 : 0.05);
        log._modes.Add(new ModeSpan(ChargeAudit.Measuring.Segmentation.Mode.NoLoad, 0, (samples - 1) * intervalS, 0, 0));
        return log;
    }

    /// <summary>A flat curve with one reading far above it.</summary>
    public static InventedLog WithSpike(int samples, double spikeW, int at)
    {
        var log = new InventedLog(samples, 1);
        log.Fill(t => (int)Math.Round(t) == at ? spikeW : 5);
        log._modes.Add(new ModeSpan(ChargeAudit.Measuring.Segmentation.Mode.Charge, 0, samples - 1, 0, 0));
        return log;
    }

    public PowerEnvelope Envelope => _envelope;

    public double EnergyWh(double fromS, double toS) => _envelope.EnergyBetweenJ(fromS, toS) / 3600;

    public LogLayout Layout(DateTimeOffset? start) => new()
    {
        Format = "text",
        Dialect = new Dialect("UTF-8", ';', ',', 1, 2),
        Columns = [new LogColumn(0, "time", LogQuantity.Time, "", 1, "the header says so"),
            new LogColumn(1, "P [W]", LogQuantity.Power, "W", 1, "the header says so")],
        TimeForm = start is null ? "elapsed seconds" : "ISO 8601 with offset",
        Start = start,
        MedianIntervalS = _intervalS,
        Samples = SampleKind.Instantaneous,
        SamplesWhy = "nothing else was said",
        Resolution = new Dictionary<LogQuantity, double> { [LogQuantity.Power] = 0.01 },
    };

    public LogMeasurement Measurement(string file, MeasuringPoint? point, string? meter, Func<double, Measured> energy)
    {
        double lengthS = (_samples - 1) * _intervalS;
        var whole = energy(EnergyWh(0, lengthS));
        var modes = _modes.Select(m => Mode(m, energy)).ToList();
        return new LogMeasurement
        {
            Files = [file],
            Sha256 = [new string('b', 64)],
            Point = point,
            Meter = meter,
            Layout = Layout(null),
            PowerFrom = "power column",
            Rows = _samples,
            RowsSkipped = 0,
            Faults = [],
            Energy = whole,
            Charge = Figure.None("the log holds no current"),
            DurationS = lengthS,
            MeanPower = whole.In("W", 3600 / lengthS),
            PeakPowerW = _peakW,
            Modes = modes,
            Details = [.. modes.Where(m => m.Span.Mode == ChargeAudit.Measuring.Segmentation.Mode.Charge)
                .SelectMany(m => InventedChain.Details(m.Span))],
            Sessions = [.. modes.Where(m => m.Span.Mode == ChargeAudit.Measuring.Segmentation.Mode.Charge)
                .Select(m => new SessionResult(m.Span.StartS, m.Span.EndS, m.Energy, lengthS - m.Span.EndS))],
            Doubts = [],
            Envelope = _envelope,
        };
    }

    private ModeResult Mode(ModeSpan span, Func<double, Measured> energy)
    {
        var wh = energy(EnergyWh(span.StartS, span.EndS));
        return new ModeResult(span, wh, Figure.Of(wh.In("W", 3600 / span.DurationS)));
    }

    private void Fill(Func<double, double> powerW)
    {
        double before = double.NaN;
        for (int i = 0; i < _samples; i++)
        {
            double t = i * _intervalS;
            double p = powerW(t);
            _peakW = Math.Max(_peakW, p);
            _envelope.AddReading(t, p);
            if (i > 0)
            {
                _envelope.AddInterval(new PowerInterval(t - _intervalS, t, before, p));
            }

            before = p;
        }
    }
}
