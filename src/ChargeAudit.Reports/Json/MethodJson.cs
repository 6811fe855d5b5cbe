using ChargeAudit.Checking.Documents;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Json;

/// <summary>A method and its runs in JSON.</summary>
internal static class MethodJson
{
    private const string NotGiven = "not given";
    private const string NoMeter = "no meter sat there";

    public static MethodDocument Of(MethodResult method) => new()
    {
        Name = method.Name,
        Kind = StableName.Of(method.Kind),
        Runs = new MadeWhenAsked<RunResult, RunDocument>(method.Runs, Run),
        Points = Points(method.Points),
        Yearly = YearJson.Of(method.Yearly),
        Coils = method.Coils is { } coils ? Coils(coils) : null,
        CoilsReason = Known.Unless(
            method.Coils, method.Kind == MethodKind.Wired ? "charging is by cable" : "the study says nothing of the coils"),
    };

    private static MethodPointsDocument Points(IReadOnlyDictionary<MeasuringPoint, PointResult> points)
    {
        PointDocument? At(MeasuringPoint point) => points.TryGetValue(point, out var at) ? Point(at) : null;
        string? Why(MeasuringPoint point) => points.ContainsKey(point) ? null : NoMeter;
        return new MethodPointsDocument
        {
            Wall = At(MeasuringPoint.Wall),
            WallReason = Why(MeasuringPoint.Wall),
            Usb = At(MeasuringPoint.Usb),
            UsbReason = Why(MeasuringPoint.Usb),
            Device = At(MeasuringPoint.Device),
            DeviceReason = Why(MeasuringPoint.Device),
            Battery = At(MeasuringPoint.Battery),
            BatteryReason = Why(MeasuringPoint.Battery),
        };
    }

    private static PointDocument Point(PointResult at) => new()
    {
        EnergyPerCharge = at.EnergyPerCharge.Json(),
        EnergyPerChargeReason = at.EnergyPerCharge.Why(),
        RunEnergiesWh = at.RunEnergiesWh,
        ChargeDurationS = Known.Finite(at.ChargeDurationS),
        Blocks = at.Blocks is { } blocks ? Blocks(blocks) : null,
        MaintenancePower = at.MaintenancePower.Json(),
        MaintenancePowerReason = at.MaintenancePower.Why(),
        NoLoadPower = at.NoLoadPower.Json(),
        NoLoadPowerReason = at.NoLoadPower.Why(),
        StandbyNotes = at.StandbyNotes,
    };

    private static BlocksDocument Blocks(BlockScatter blocks)
    {
        double? within = Root(blocks.VarianceWithin), between = Root(blocks.VarianceBetween);
        return new(
            blocks.Blocks, within, Known.Unless(within, "every block has one run"), between,
                Known.Unless(between, "there is one block only"));
    }

    private static double? Root(double? variance) => variance is { } known ? Math.Sqrt(known) : null;

    private static RunDocument Run(RunResult run) => new()
    {
        Id = run.Id,
        Start = run.Start,
        StartReason = Known.Unless(run.Start, LogJson.ElapsedOnly),
        Excluded = run.Excluded is not null,
        ExcludedReason = run.Excluded,
        StartChargePercent = Known.Finite(run.StartChargePercent),
        StartChargePercentReason = Known.Unless(run.StartChargePercent, NotGiven),
        EndChargePercent = Known.Finite(run.EndChargePercent),
        EndChargePercentReason = Known.Unless(run.EndChargePercent, NotGiven),
        Block = run.Block,
        Factors = run.Factors.IsNone ? null : PlacementJson.Factors(run.Factors),
        TemperatureC = Known.Finite(run.TemperatureC),
        TemperatureCReason = Known.Unless(run.TemperatureC, "neither the study nor a log tells it"),
        Adapter = run.Adapter,
        AdapterReason = Known.Unless(run.Adapter, NotGiven),
        Clocks = [.. run.Clocks.Select(ChainJson.Clock)],
        Points = run.Points.OrderBy(p => p.Key).ToDictionary(p => StableName.Of(p.Key), p => RunPoint(p.Value)),
    };

    private static RunPointDocument RunPoint(RunPointResult seen) => new()
    {
        Energy = seen.Energy.Json(),
        EnergyReason = seen.Energy.Why(),
        Charge = LogJson.Span(seen.Log.Layout, seen.Charge.StartS, seen.Charge.EndS),
        MaintenancePower = seen.Maintenance.Json(),
        MaintenancePowerReason = seen.Maintenance.Why(),
        Meter = seen.Meter,
        MeterReason = Known.Unless(seen.Meter, "no meter is named"),
        Files = seen.Log.Files,
    };

    private static CoilsOfMethodDocument Coils(CoilsResult coils) => new(
        Known.Finite(coils.Link.Coupling),
        Known.Finite(coils.Link.FigureOfMerit),
        Known.Finite(coils.PossibleEfficiency),
        coils.MeasuredEfficiency.Json(),
        coils.MeasuredEfficiency.Why(),
        coils.CoilLoss.Json(),
        coils.CoilLoss.Why(),
        coils.Rest.Json(),
        coils.Rest.Why(),
        coils.Contradicts);
}
