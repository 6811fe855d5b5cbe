using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Simulation.Metering;
using ChargeAudit.Simulation.Physics;

namespace ChargeAudit.Simulation.Output;

/// <summary>Writes what nobody with meters can know: the true energies, powers, losses, mode borders, clock offsets and meter errors of a
/// simulated study.</summary>
internal static class TruthText
{
    private const int Digits = 6;
    private const int ErrorDigits = 9;

    /// <summary>The text of truth.json.</summary>
    /// <param name="study">The simulated study.</param>
    /// <returns>JSON; lines end in line feed. Energies and powers are rounded to 1e-6 of their unit.</returns>
    public static string Write(SimulatedStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        string reference = study.Scenario.Methods[0].Name;
        return TruthContext.Text(new TruthDocument(
            TruthDocument.Name,
            study.Scenario.Title,
            study.Seed,
            study.MeterSeed == study.Seed ? null : study.MeterSeed,
            Rounded(study.Scenario.Device.BatteryWh),
            [
                .. study.Scenario.Methods.Select(m => new TruthMethod(
                    m.Name,
                    AtEachPoint(p => StudyTruth.EnergyPerChargeWh(study, m.Name, p)),
                    AtEachPoint(p => StudyTruth.MaintenanceW(study, m.Name, p)),
                    AtEachPoint(p => StudyTruth.NoLoadW(study, m.Name, p)))),
            ],
            [
                .. study.Scenario.Methods.Skip(1).Select(m => new TruthComparison(
                    reference, m.Name, AtEachPoint(p => StudyTruth.OverheadRatio(study, m.Name, p)))),
            ],
            [.. study.Runs.Select(Run)],
            [.. study.Waiting.Select(Run)],
            [.. study.MeterErrors.Select(Meter)]));
    }

    private static TruthRun Run(SimulatedRun run)
    {
        PowerTrace trace = run.Trace;
        bool charged = run.Plan.StartShare is not null;
        return new(
            run.Plan.Id,
            run.Plan.Method.Name,
            run.Plan.Start,
            Rounded(1000 * trace.OffsetM),
            Rounded(trace.Coupling),
            [.. trace.Modes.Select(span => new TruthMode(StableName.Of(span.Mode), Rounded(span.StartS), Rounded(span.EndS)))],
            charged ? AtEachPoint(p => trace.EnergyWh(p, Mode.Charge)) : null,
            charged ? AtEachPoint(p => trace.MeanW(p, Mode.Maintenance)) : null,
            charged ? Rounded(100 * trace.StartShare) : null,
            charged ? Rounded(100 * trace.Steps.Last(s => s.Mode == Mode.Charge).ShareAfter) : null,
            charged ? Rounded(trace.SumWh(Mode.Charge, s => s.StoredW)) : null,
            charged ? Losses(trace) : null,
            AtEachPoint(p => trace.MeanW(p, Mode.NoLoad)),
            [.. run.Logs.Select(Log)]);
    }

    private static TruthLosses Losses(PowerTrace trace)
    {
        double? Sum(Func<PowerLosses, double> part) => Rounded(trace.SumWh(Mode.Charge, s => part(s.Losses)));
        return new(
            Sum(l => l.AdapterW),
            Sum(l => l.CableW),
            Sum(l => l.PadW),
            Sum(l => l.PrimaryCoilW),
            Sum(l => l.SecondaryCoilW),
            Sum(l => l.ReceiverW),
            Sum(l => l.ChargerW),
            Sum(l => l.CellW),
            Sum(l => l.BackgroundW));
    }

    private static TruthLog Log(SimulatedLog log)
    {
        var gap = log.Mishap is { GapLengthS: > 0 } lost ? lost : null;
        return new(
            log.FileName,
            StableName.Of(log.Meter.Point),
            log.Meter.Name,
            Rounded(log.ClockAheadS),
            log.Rows,
            log.RowsLost,
            gap is null ? null : Rounded(gap.GapFromS),
            gap is null ? null : Rounded(gap.GapLengthS),
            log.Mishap is { } reset && !double.IsNaN(reset.CounterResetAtS) ? Rounded(reset.CounterResetAtS) : null);
    }

    private static TruthMeter Meter(MeterErrors meter)
    {
        TruthError? Of(LogQuantity quantity) => meter.Errors.TryGetValue(quantity, out var error)
            ? new(Rounded(error.Gain, ErrorDigits), Rounded(error.Offset, ErrorDigits))
            : null;
        return new(
            meter.Meter,
            Of(LogQuantity.Voltage),
            Of(LogQuantity.Current),
            Of(LogQuantity.Power),
            Of(LogQuantity.ApparentPower),
            Of(LogQuantity.PowerFactor),
            Of(LogQuantity.Energy),
            Of(LogQuantity.Charge),
            Of(LogQuantity.Temperature),
            Of(LogQuantity.Frequency));
    }

    private static PerPoint AtEachPoint(Func<MeasuringPoint, double> value) => new(
        Rounded(value(MeasuringPoint.Wall)),
        Rounded(value(MeasuringPoint.Usb)),
        Rounded(value(MeasuringPoint.Device)),
        Rounded(value(MeasuringPoint.Battery)));

    // Adding zero turns a negative zero, which would print with its sign, into a plain one.
    private static double? Rounded(double value, int digits = Digits) => double.IsFinite(value) ? Math.Round(value, digits) + 0.0 : null;
}
