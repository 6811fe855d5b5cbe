using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Alignment;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>The adapter's efficiency over its load, where a method's runs were measured on both sides of it with clocks that could be
/// brought together.</summary>
internal sealed class AdapterCurves(Study study, StudyLogs logs, DateOnly day, CancellationToken cancellation)
{
    private const double WindowS = 60;
    private const int Steps = 24;

    private readonly Dictionary<string, Run> _runs = study.Runs.ToDictionary(r => r.Id, StringComparer.Ordinal);

    /// <summary>One curve for each output voltage of a method, and a sentence for each that has none; nothing where no run was measured on
    /// both sides.</summary>
    public (IReadOnlyList<AdapterCurveResult> Curves, IReadOnlyList<string> WhyNone) Of(MethodResult method)
    {
        var onBothSides = method.Runs.Where(r => r.Excluded is null && r.Points.ContainsKey(MeasuringPoint.Wall)
            && r.Points.ContainsKey(MeasuringPoint.Usb)).ToList();
        if (onBothSides.Count == 0)
        {
            return ([], []);
        }

        string none = $"{method.Name}: no curve of the adapter:";
        var windows = onBothSides.SelectMany(Windows).ToList();
        if (windows.Count == 0)
        {
            return ([],
                [$"{none} the clocks of its two meters could not be brought together, or no minute of a charge has readings of both."]);
        }

        var own = study.Methods.First(m => m.Name == method.Name);
        var (curves, whyNone) =
            AdapterCurve.Fit([.. windows.Select(w => w.Point)], windows.Average(w => w.InNoiseW), windows.Average(w => w.OutNoiseW));
        return ([.. curves.Select(curve => ResultOf(method, curve, windows, own.Adapter ?? study.Adapter))],
            [.. whyNone.Select(why => $"{none} {why}.")]);
    }

    private AdapterCurveResult ResultOf(MethodResult method, AdapterCurve curve, List<Window> windows, AdapterInfo? adapter)
    {
        var seen = windows.Where(w => Math.Abs(w.Point.OutV - curve.OutV) <= (0.1 * curve.OutV) + 0.01).ToList();
        var scatter = InfluenceSource.OfMethod(method.Name, SourceKind.Other, InvariantText.Of($"adapter-curve-{curve.OutV:F1}-V"));
        Figure At(double outW) => curve.EfficiencyAt(outW) is { Value: { } fitted }
            ? Figure.Of(WithMeters(fitted, outW, seen, scatter))
            : curve.EfficiencyAt(outW);
        string? unknown = Input(seen[0]).UnknownBecause ?? Output(seen[0]).UnknownBecause;
        Measured Coefficient((double Value, double U) c, string unit, string what) =>
            Measured.From(c.Value, unit,
                [new UncertaintyComponent(
                    scatter with { Part = $"{scatter.Part}-{what}", DegreesOfFreedom = Math.Max(1, curve.Points - 3) }, c.U)], unknown);
        var rated = adapter?.OutputW is { } ratedW
            ? RatedEfficiency.At(ratedW, At)
            : [];
        var average = RatedEfficiency.Average(rated);
        return new AdapterCurveResult(
            method.Name, curve.OutV, curve.Points, curve.LeastOutW, curve.GreatestOutW,
            Coefficient(curve.FixedW, "W", "fixed").Plus(Offsets(seen.MinBy(w => w.Point.OutW)!, curve.PerWatt.Value)),
            Coefficient(curve.PerWatt, "1", "per-watt").Plus(Gains(seen.MaxBy(w => w.Point.OutW)!, curve.PerWatt.Value)),
            Coefficient(curve.PerSquare, curve.OutV > 0 ? "Ω" : "1/W", "per-square"),
            [.. Loads(curve).Select(outW => new LoadEfficiency(outW, At(outW)))],
            rated, average, Published(adapter, average));
    }

    private List<YardstickFinding> Published(AdapterInfo? adapter, Figure average) =>
        adapter is { OutputW: { } output, Kind: { } kind }
            && Yardsticks.At(EuYardsticks.Id(kind, "efficiency"), output, day) is { } limit
            ? [Yardsticks.Compare(limit, output, average, EuYardsticks.MultipleDoubt(adapter))]
            : [];

    private static IEnumerable<double> Loads(AdapterCurve curve)
    {
        // Closer together at small loads, where the efficiency bends.
        double from = Math.Max(curve.LeastOutW, 0.02 * curve.GreatestOutW);
        return Enumerable.Range(0, Steps + 1).Select(i => from + ((curve.GreatestOutW - from) * i * i / (Steps * Steps)));
    }

    // The fit knows only the scatter. The two meters' own errors are those of the window whose load is nearest to this one.
    private static Measured WithMeters(Measured fitted, double outW, List<Window> windows, InfluenceSource source)
    {
        var near = windows.MinBy(w => Math.Abs(w.Point.OutW - outW))!;
        var (input, output) = (Input(near), Output(near));
        if (!(input.Value > 0) || !(output.Value > 0))
        {
            return Measured.Unknown(fitted.Value, "1", "the meters show no power at this load");
        }

        var quotient = Measured.Quotient(output, input);
        var meters = Meters(quotient, fitted.Value / quotient.Value);
        var scatter = fitted.Components.Select(c => c with { Source = source with { DegreesOfFreedom = c.Source.DegreesOfFreedom } });
        return Measured.From(fitted.Value, "1", scatter.Concat(meters), quotient.UnknownBecause);
    }

    // Near no load a meter's error is mostly its offset, which goes into the fixed part; near full load mostly its gain, which goes into
    // the slope.
    private static IEnumerable<UncertaintyComponent> Offsets(Window at, double perWatt) => Meters(Input(at) - (perWatt * Output(at)), 1);

    private static IEnumerable<UncertaintyComponent> Gains(Window at, double perWatt) =>
        Output(at).Value > 0 && Measured.Quotient(Input(at), Output(at)) is { } quotient ? Meters(quotient, perWatt / quotient.Value) : [];

    private static Measured Input(Window at) => at.Input.Energies.MeanPowerW(at.FromS, at.ToS, "adapter-curve");

    private static Measured Output(Window at) => at.Output.Energies.MeanPowerW(at.OutFromS, at.OutToS, "adapter-curve");

    private static IEnumerable<UncertaintyComponent> Meters(Measured figure, double scale) => figure.Components
        .Where(c => c.Source.Kind != SourceKind.Noise)
        .Select(c => c with { SignedStandardUncertainty = scale * c.SignedStandardUncertainty });

    private IEnumerable<Window> Windows(RunResult run)
    {
        var (wall, usb) = (run.Points[MeasuringPoint.Wall], run.Points[MeasuringPoint.Usb]);
        if (run.Clocks.Any(c => c.Point <= MeasuringPoint.Usb && !c.Applied))
        {
            yield break;
        }

        var input = logs.OfRun(_runs[run.Id], MeasuringPoint.Wall, cancellation);
        var output = logs.OfRun(_runs[run.Id], MeasuringPoint.Usb, cancellation);

        // The charge was carried from clock to clock, so its borders in both logs tell how the clocks differ.
        double rate = wall.Charge.DurationS / usb.Charge.DurationS;
        var clocks = new ClockAlignment(wall.Charge.StartS - (rate * usb.Charge.StartS), 0, 1e6 * (rate - 1), null, 1, 0);
        var envelope = input.Result.Envelope;
        double length = Math.Max(WindowS, 10 * Math.Max(envelope.BucketWidthS, output.Result.Envelope.BucketWidthS));
        for (double from = envelope.OriginS; from + length <= envelope.StartS(envelope.Count); from += length)
        {
            foreach (var point in LoadPoints.Of(envelope, output.Result.Envelope, clocks, from, from + length, length))
            {
                yield return new Window(
                    point, input, output, from, from + length, clocks.ToOtherS(from), clocks.ToOtherS(from + length), Noise(input, length),
                        Noise(output, length));
            }
        }
    }

    // Noise averages over a window; the step of the readings does not.
    private static double Noise(MeasuredLog log, double windowS)
    {
        var found = log.Finding.Thresholds;
        return Math.Sqrt((found.NoiseW * found.NoiseW / Math.Max(1, windowS / log.Result.Layout.MedianIntervalS))
            + (found.StepW * found.StepW / 12));
    }

    private sealed record Window(
        LoadPoint Point, MeasuredLog Input, MeasuredLog Output, double FromS, double ToS, double OutFromS, double OutToS, double InNoiseW,
            double OutNoiseW);
}
