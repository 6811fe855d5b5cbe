using System.Buffers;
using System.Text;
using System.Text.Json;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Simulation.Metering;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Output;

/// <summary>Writes what nobody with meters can know: the true energies, powers, losses, mode borders, clock offsets and meter errors of a simulated study.</summary>
internal static class TruthText
{
    private static readonly MeasuringPoint[] Points = [MeasuringPoint.Wall, MeasuringPoint.Usb, MeasuringPoint.Device, MeasuringPoint.Battery];

    /// <summary>The text of truth.json.</summary>
    /// <param name="study">The simulated study.</param>
    /// <returns>JSON; lines end in line feed. Energies and powers are rounded to 1e-6 of their unit.</returns>
    public static string Write(SimulatedStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArrayBufferWriter<byte> buffer = new();
        using (Utf8JsonWriter json = new(buffer, new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteString("schema", "chargeaudit/truth/1");
            json.WriteString("title", study.Scenario.Title);
            json.WriteNumber("seed", study.Seed);
            Number(json, "batteryWh", study.Scenario.Device.BatteryWh);
            Methods(json, study);
            Comparisons(json, study);
            json.WriteStartArray("runs");
            foreach (SimulatedRun run in study.Runs)
            {
                Run(json, run);
            }

            json.WriteEndArray();
            json.WriteStartArray("standby");
            foreach (SimulatedRun run in study.Waiting)
            {
                Run(json, run);
            }

            json.WriteEndArray();
            Meters(json, study);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan) + "\n";
    }

    private static void Methods(Utf8JsonWriter json, SimulatedStudy study)
    {
        json.WriteStartArray("methods");
        foreach (MethodModel method in study.Scenario.Methods)
        {
            json.WriteStartObject();
            json.WriteString("name", method.Name);
            PerPoint(json, "energyPerChargeWh", p => StudyTruth.EnergyPerChargeWh(study, method.Name, p));
            PerPoint(json, "maintenanceW", p => StudyTruth.MaintenanceW(study, method.Name, p));
            PerPoint(json, "noLoadW", p => StudyTruth.NoLoadW(study, method.Name, p));
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Comparisons(Utf8JsonWriter json, SimulatedStudy study)
    {
        MethodModel reference = study.Scenario.Methods[0];
        json.WriteStartArray("comparisons");
        foreach (MethodModel method in study.Scenario.Methods.Skip(1))
        {
            json.WriteStartObject();
            json.WriteString("reference", reference.Name);
            json.WriteString("method", method.Name);
            PerPoint(json, "overheadRatio", p => StudyTruth.OverheadRatio(study, method.Name, p));
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Run(Utf8JsonWriter json, SimulatedRun run)
    {
        PowerTrace trace = run.Trace;
        json.WriteStartObject();
        json.WriteString("id", run.Plan.Id);
        json.WriteString("method", run.Plan.Method.Name);
        json.WriteString("start", run.Plan.Start);
        Number(json, "offsetMm", 1000 * trace.OffsetM);
        Number(json, "coupling", trace.Coupling);
        json.WriteStartArray("modes");
        foreach (ModeSpan span in trace.Modes)
        {
            json.WriteStartObject();
            json.WriteString("mode", span.Mode switch { Mode.NoLoad => "no-load", Mode.Charge => "charge", Mode.Maintenance => "maintenance", _ => "off" });
            Number(json, "startS", span.StartS);
            Number(json, "endS", span.EndS);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        if (run.Plan.StartShare is not null)
        {
            PerPoint(json, "energyWh", p => trace.EnergyWh(p, Mode.Charge));
            PerPoint(json, "maintenanceW", p => trace.MeanW(p, Mode.Maintenance));
            Number(json, "startCharge", 100 * trace.StartShare);
            Number(json, "endCharge", 100 * trace.Steps.Last(s => s.Mode == Mode.Charge).ShareAfter);
            Number(json, "storedWh", trace.SumWh(Mode.Charge, s => s.StoredW));
            Losses(json, trace);
        }

        PerPoint(json, "noLoadW", p => trace.MeanW(p, Mode.NoLoad));
        Logs(json, run);
        json.WriteEndObject();
    }

    private static void Losses(Utf8JsonWriter json, PowerTrace trace)
    {
        json.WriteStartObject("lossesWh");
        foreach ((string name, Func<PowerLosses, double> part) in (ReadOnlySpan<(string, Func<PowerLosses, double>)>)
            [
                ("adapter", l => l.AdapterW), ("cable", l => l.CableW), ("pad", l => l.PadW), ("primaryCoil", l => l.PrimaryCoilW), ("secondaryCoil", l => l.SecondaryCoilW),
                ("receiver", l => l.ReceiverW), ("charger", l => l.ChargerW), ("cell", l => l.CellW), ("background", l => l.BackgroundW),
            ])
        {
            Number(json, name, trace.SumWh(Mode.Charge, s => part(s.Losses)));
        }

        json.WriteEndObject();
    }

    private static void Logs(Utf8JsonWriter json, SimulatedRun run)
    {
        json.WriteStartArray("logs");
        foreach (SimulatedLog log in run.Logs)
        {
            json.WriteStartObject();
            json.WriteString("file", log.FileName);
            json.WriteString("point", LogSimulation.PointName(log.Meter.Point));
            json.WriteString("meter", log.Meter.Name);
            Number(json, "clockAheadS", log.ClockAheadS);
            json.WriteNumber("rows", log.Rows);
            json.WriteNumber("rowsLost", log.RowsLost);
            if (log.Mishap is { GapLengthS: > 0 } gap)
            {
                Number(json, "gapFromS", gap.GapFromS);
                Number(json, "gapLengthS", gap.GapLengthS);
            }

            if (log.Mishap is { } reset && !double.IsNaN(reset.CounterResetAtS))
            {
                Number(json, "counterResetS", reset.CounterResetAtS);
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Meters(Utf8JsonWriter json, SimulatedStudy study)
    {
        json.WriteStartArray("meters");
        foreach (MeterErrors meter in study.MeterErrors)
        {
            json.WriteStartObject();
            json.WriteString("name", meter.Meter);
            foreach ((Logs.LogQuantity quantity, ReadingError error) in meter.Errors.OrderBy(e => e.Key))
            {
                json.WriteStartObject(JsonNamingPolicy.CamelCase.ConvertName(quantity.ToString()));
                Number(json, "gain", error.Gain, 9);
                Number(json, "offset", error.Offset, 9);
                json.WriteEndObject();
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void PerPoint(Utf8JsonWriter json, string name, Func<MeasuringPoint, double> value)
    {
        json.WriteStartObject(name);
        foreach (MeasuringPoint point in Points)
        {
            Number(json, LogSimulation.PointName(point), value(point));
        }

        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string name, double value, int digits = 6)
    {
        if (double.IsFinite(value))
        {
            json.WriteNumber(name, Math.Round(value, digits) + 0.0);
        }
        else
        {
            json.WriteNull(name);
        }
    }
}
