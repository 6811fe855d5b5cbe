using ChargeAudit.Comparing.Fairness;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Measuring;

namespace ChargeAudit.Tests.Reports;

/// <summary>An invented answer of an audit, made without reading or analysing anything: a cable and a pad, three runs each.</summary>
internal sealed record ReportFixture
{
    public string Title { get; init; } = "Kitchen shelf: cable or pad";

    public string Pad { get; init; } = "pad";

    public string Device { get; init; } = "an invented handset";

    public bool KnownUncertainty { get; init; } = true;

    public bool WallMeasured { get; init; } = true;

    public int Runs { get; init; } = 3;

    public int SamplesPerLog { get; init; } = 900;

    public double IntervalS { get; init; } = 10;

    public double PriceOrNone { get; init; } = 0.31;

    public string? CommandLine { get; init; } = "chargeaudit audit study.toml --out report";

    private static readonly InfluenceSource PlugGain =
        InfluenceSource.OfMeter("plug", SourceKind.MeterGain, "power-gain", ErrorShape.Rectangular);
    private static readonly InfluenceSource PlugOffset =
        InfluenceSource.OfMeter("plug", SourceKind.MeterOffset, "power-offset", ErrorShape.Rectangular);
    private static readonly InfluenceSource BenchGain =
        InfluenceSource.OfMeter("bench", SourceKind.MeterGain, "voltage-gain", ErrorShape.Rectangular);

    public AuditResult Build()
    {
        MethodResult[] methods = [Method("cable", MethodKind.Wired), Method(Pad, MethodKind.Inductive)];
        var waiting = Waiting();
        var logs = methods.SelectMany(m => m.Runs).SelectMany(r => r.Points.Values).Select(p => p.Log).Append(waiting).ToList();
        return new AuditResult
        {
            Study = Study(),
            Assumptions = ["No hours on the charger were given for the cable: the device is taken off when it is full."],
            Methods = methods,
            Logs = logs,
            Stages = WallMeasured ? [.. methods.Select(Stage)] : [],
            Losses = WallMeasured ? [.. methods.Select(InventedChain.Losses)] : [],
            AdapterCurves = WallMeasured && KnownUncertainty ? [InventedChain.Adapter("cable")] : [],
            Comparisons = [.. Points().Select(p => Comparison(methods, p) with { EndRules = InventedChain.EndRules(p) })],
            Fairness = [
                new FairnessNote("different-end-state",
                "Run pad-2 ended while the device still took 0.4 W more than in the other runs; its energy may be 1 % too low.",
                [$"{Pad}-2"])],
            Provenance = new Provenance("0.1.0", "study.toml", new string('a', 64),
                new DateTimeOffset(2031, 3, 4, 9, 30, 0, TimeSpan.FromHours(1)), CommandLine),
        };
    }

    private MeasuringPoint[] Points() => WallMeasured ? [MeasuringPoint.Wall, MeasuringPoint.Usb] : [MeasuringPoint.Usb];

    private Study Study() => new()
    {
        Title = Title,
        Reference = "cable",
        Device = new DeviceInfo { Name = Device, BatteryWh = 15.4 },
        Meters = new Dictionary<string, Meter>
        {
            ["plug"] = new() { Name = "plug", Accuracy = DataSheet.Of((LogQuantity.Power, "0.5 % + 0.05 W")) },
            ["bench"] = new() { Name = "bench", Accuracy = DataSheet.Of((LogQuantity.Voltage, "0.05 % + 2 mV")) },
        },
        Methods = [new Method("cable", MethodKind.Wired), new Method(Pad, MethodKind.Inductive)],
        Runs = [],
        Standby = [new StandbyLog(Pad, new Dictionary<MeasuringPoint, LogReference>
        {
            [MeasuringPoint.Wall] = new(["pad-waiting.csv"], "plug"),
        })],
        Tariff = PriceOrNone > 0 ? new Tariff("EUR", PriceOrNone) : null,
        Folder = ".",
    };

    private MethodResult Method(string name, MethodKind kind)
    {
        var runs = Enumerable.Range(1, Runs).Select(n => Run(name, kind, n)).Append(Run(name, kind, Runs + 1) with
        {
            Excluded = "the device rang during this charge",
        }).ToList();
        return new MethodResult
        {
            Name = name,
            Kind = kind,
            Runs = runs,
            Points = Points().ToDictionary(p => p, p => Point(runs, p, kind)),
            Yearly = Year(kind),
        };
    }

    private PointResult Point(List<RunResult> runs, MeasuringPoint point, MethodKind kind)
    {
        var energies = runs.Where(r => r.Excluded is null).Select(r => r.Points[point].Energy).ToList();
        double mean = energies.Average(e => e.Value);
        var spread =
            new UncertaintyComponent(InfluenceSource.ScatterOf(kind == MethodKind.Wired
            ? "cable"
            : "pad", point.ToString().ToLowerInvariant()) with
            { DegreesOfFreedom = Math.Max(1, Runs - 1) }, 0.004 * mean);
        var per = KnownUncertainty
            ? Measured.From(mean, "Wh",
                [spread, new UncertaintyComponent(point == MeasuringPoint.Wall ? PlugGain : BenchGain, 0.0029 * mean)])
            : Measured.Unknown(mean, "Wh", "no accuracy is given for the meter");
        var noLoad = kind == MethodKind.Inductive && point == MeasuringPoint.Wall
            ? Figure.Of(Power(0.31, PlugOffset, 0.029))
            : Figure.None("no log of this charger waiting with no device was given");
        return new PointResult(Figure.Of(Stated(per)), [.. energies.Select(e => e.Value)], 6200,
            Figure.Of(Power(kind == MethodKind.Wired ? 0.22 : 1.18, PlugOffset, 0.029)), noLoad)
        {
            StandbyNotes = noLoad.Value is null
                ? []
                : ["pad-waiting.csv: Similar to the sampling method of IEC 62301: the power was stable by its test (0.4 mW/h, "
                + "allowed 10.0 mW/h); no pulses were seen."],
        };
    }

    /// <summary>The same figure with an interval of two standard uncertainties: writers are tested here, not how a coverage factor is
    /// worked out.</summary>
    internal static Measured Stated(Measured figure) => figure.StandardUncertainty is { } u
        ? figure.WithInterval(coverage => new CoverageInterval(figure.Value - (2 * u), figure.Value + (2 * u), coverage, 2))
        : figure;

    private Measured Power(double value, InfluenceSource source, double u) => KnownUncertainty
        ? Stated(Measured.From(value, "W", [new UncertaintyComponent(source, u)]))
        : Measured.Unknown(value, "W", "no accuracy is given for the meter");

    private YearResult Year(MethodKind kind)
    {
        if (!WallMeasured)
        {
            var none = Figure.None("no meter sat at the wall, and the adapter's efficiency is not known");
            return new YearResult(none, none, []);
        }

        (Mode Mode, double Hours, double Kwh)[] modes = kind == MethodKind.Wired
            ? [(Mode.Charge, 629, 3.08), (Mode.Maintenance, 2281, 0.50), (Mode.NoLoad, 5850, 0.35), (Mode.Off, 0, 0)]
            : [(Mode.Charge, 812, 4.70), (Mode.Maintenance, 2098, 2.48), (Mode.NoLoad, 5850, 1.81), (Mode.Off, 0, 0)];
        Measured Kwh(double value) => KnownUncertainty
            ? Stated(Measured.From(value, "kWh", [new UncertaintyComponent(PlugGain, 0.006 * value)]))
            : Measured.Unknown(value, "kWh", "no accuracy is given for the meter");
        Figure Cost(Measured kwh) => PriceOrNone > 0 ? Figure.Of(kwh.In("EUR", PriceOrNone)) : Figure.None("the study gives no price");
        var byMode = modes.Select(m => new YearModeResult(m.Mode, m.Hours, Figure.Of(Kwh(m.Kwh)), Cost(Kwh(m.Kwh)))).ToList();
        var total = Kwh(modes.Sum(m => m.Kwh));
        return new YearResult(Figure.Of(total), Cost(total), byMode) { Detail = InventedYear.Detail(kind, total, Kwh, Cost) };
    }

    private static StageResult Stage(MethodResult method)
    {
        var into = method.Points[MeasuringPoint.Wall].EnergyPerCharge.Value!;
        var outOf = method.Points[MeasuringPoint.Usb].EnergyPerCharge.Value!;
        return new StageResult(method.Name, MeasuringPoint.Wall, MeasuringPoint.Usb, Figure.Of(Stated(Measured.Quotient(outOf, into))),
            Figure.Of(Stated(into - outOf)));
    }

    private ComparisonResult Comparison(MethodResult[] methods, MeasuringPoint point)
    {
        var wired = methods[0].Points[point].EnergyPerCharge.Value!;
        var pad = methods[1].Points[point].EnergyPerCharge.Value!;
        var cost = point == MeasuringPoint.Wall && methods[0].Yearly.Cost.Value is { } a && methods[1].Yearly.Cost.Value is { } b
            ? Figure.Of(Stated(b - a))
            : Figure.None(point == MeasuringPoint.Wall ? "the study gives no price" : "a cost is worked out at the wall only");
        return new ComparisonResult("cable", Pad, point, Figure.Of(Stated(Measured.Quotient(pad, wired))), Figure.Of(Stated(pad - wired)),
            cost);
    }

    private RunResult Run(string method, MethodKind kind, int number)
    {
        string id = $"{method}-{number}";
        return new RunResult
        {
            Id = id,
            Start = new DateTimeOffset(2031, 3, number, 20, 0, 0, TimeSpan.Zero),
            StartChargePercent = 5,
            EndChargePercent = 100,
            Clocks = WallMeasured ? InventedChain.Clocks(number) : [],
            Points = Points().ToDictionary(p => p, p => Seen(id, kind, number, p)),
        };
    }

    private RunPointResult Seen(string id, MethodKind kind, int number, MeasuringPoint point)
    {
        string meter = point == MeasuringPoint.Wall ? "plug" : "bench";
        var curve = InventedLog.Of(kind, number, point, SamplesPerLog, IntervalS);
        Measured Energy(double wh) => KnownUncertainty
            ? Stated(
                Measured.From(wh, "Wh",
                [new UncertaintyComponent(point == MeasuringPoint.Wall ? PlugGain : BenchGain, 0.0029 * wh),
                new UncertaintyComponent(new InfluenceSource("noise") { Owner = SourceOwner.Run, OwnerName = id, Kind = SourceKind.Noise },
                0.001 * wh)]))
            : Measured.Unknown(wh, "Wh", "no accuracy is given for the meter");
        var log = curve.Measurement($"{id}-{(point == MeasuringPoint.Wall ? "wall" : "usb")}.csv", point, meter, Energy) with
        {
            Faults = number == 2
                ? [new Fault(FaultKind.Gap, 412, 412, 1, "An interval of 95 s where rows are 10 s apart was bridged with a straight line.")]
                : [],
            Layout = curve.Layout(new DateTimeOffset(2031, 3, number, 20, 0, 0, TimeSpan.Zero)),
        };
        var charge = curve.Charge;
        return new RunPointResult(log, meter, charge, Energy(curve.EnergyWh(charge.StartS, charge.EndS)),
            Figure.Of(Power(kind == MethodKind.Wired ? 0.22 : 1.18, PlugOffset, 0.029)));
    }

    private LogMeasurement Waiting()
    {
        var curve = InventedLog.Waiting(SamplesPerLog / 2, IntervalS);
        return curve.Measurement("pad-waiting.csv", MeasuringPoint.Wall, "plug",
            wh => Measured.Unknown(wh, "Wh", "no accuracy is given for the meter")) with
        {
            Doubts = ["Rows are 10 s apart and the pad draws short pulses: the mean may miss some of them."],
        };
    }
}
