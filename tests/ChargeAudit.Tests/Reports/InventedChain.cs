using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Reports;

/// <summary>Invented clocks, ends of charge, losses and an adapter's curve.</summary>
internal static class InventedChain
{
    public static IReadOnlyList<ClockResult> Clocks(int run) => run == 1
        ? [new ClockResult(MeasuringPoint.Wall, MeasuringPoint.Usb, Figure.Of(Stated(41.7, "s", 0.4, "run:1/wall-clock-offset")), true)]
        : [new ClockResult(MeasuringPoint.Wall, MeasuringPoint.Usb,
            Figure.None($"the power steps of run {run} do not show it: two offsets fit nearly as well"), false)];

    public static IReadOnlyList<EndRuleRatio> EndRules(MeasuringPoint point) => point == MeasuringPoint.Wall
        ? [new EndRuleRatio(EndRule.ShareAboveFloor, 1.507, null), new EndRuleRatio(EndRule.ChangePoint, 1.512, null),
            new EndRuleRatio(EndRule.PlainShare, null, "the log ends before power has fallen that far")]
        : [];

    public static IEnumerable<ModeDetail> Details(ModeSpan charge)
    {
        double knee = charge.StartS + (0.45 * charge.DurationS);
        return [new(ModeDetailKind.ConstantPower, charge.StartS, knee, 10), new(ModeDetailKind.Taper, knee, charge.EndS, 4.2)];
    }

    public static LossResult Losses(MethodResult method)
    {
        var wall = method.Points[MeasuringPoint.Wall].EnergyPerCharge;
        var usb = method.Points[MeasuringPoint.Usb].EnergyPerCharge;
        return new LossResult(
            method.Name, MeasuringPoint.Wall, wall,
            [new LossPart([LossPlace.Adapter], MeasuringPoint.Wall, MeasuringPoint.Usb,
                Figure.Of(ReportFixture.Stated(wall.Value! - usb.Value!)))],
            usb, MeasuringPoint.Usb, "What is lost further on (cable, device electronics, battery) is not separated: no meter sat there.");
    }

    public static AdapterCurveResult Adapter(string method)
    {
        LoadEfficiency At(double outW) =>
            new(outW, Figure.Of(Stated(outW / (0.12 + (1.09 * outW) + (0.002 * outW * outW)), "1", 0.004, "method:cable/adapter-curve")));
        var outside = Figure.None("not measured: 20 W lies outside the loads seen, 0.5 W to 10 W");
        return new AdapterCurveResult(
            method, 5.04, 96, 0.5, 10,
            Stated(0.12, "W", 0.01, "curve/fixed"), Stated(1.09, "1", 0.004, "curve/per-watt"),
                Stated(0.05, "Ω", 0.004, "curve/per-square"),
            [At(0.5), At(5), At(10)],
            [new RatedEfficiency(25, 5, At(5).Efficiency), new RatedEfficiency(50, 10, At(10).Efficiency),
                new RatedEfficiency(75, 15, outside), new RatedEfficiency(100, 20, outside)],
            outside, []);
    }

    private static Measured Stated(double value, string unit, double u, string source) =>
        ReportFixture.Stated(Measured.From(value, unit, [new UncertaintyComponent(new InfluenceSource(source), u)]));
}
