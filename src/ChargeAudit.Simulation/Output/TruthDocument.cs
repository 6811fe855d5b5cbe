using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ChargeAudit.Simulation.Output;

/// <summary>The records of truth.json, as docs/simulate.md describes it.</summary>
internal sealed record TruthDocument(
    string Schema,
    string Title,
    ulong Seed,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] ulong? MeterSeed,
    double? BatteryWh,
    IReadOnlyList<TruthMethod> Methods,
    IReadOnlyList<TruthComparison> Comparisons,
    IReadOnlyList<TruthRun> Runs,
    IReadOnlyList<TruthRun> Standby,
    IReadOnlyList<TruthMeter> Meters)
{
    /// <summary>Name and version of the document.</summary>
    public const string Name = "chargeaudit/truth/1";
}

/// <summary>A value at each measuring point; null where nothing flows through it.</summary>
internal sealed record PerPoint(double? Wall, double? Usb, double? Device, double? Battery);

/// <summary>What a method truly uses.</summary>
internal sealed record TruthMethod(string Name, PerPoint EnergyPerChargeWh, PerPoint MaintenanceW, PerPoint NoLoadW);

/// <summary>A method beside the first.</summary>
internal sealed record TruthComparison(string Reference, string Method, PerPoint OverheadRatio);

/// <summary>A run; what belongs to a charge is null where only waiting was logged.</summary>
internal sealed record TruthRun(
    string Id,
    string Method,
    DateTimeOffset Start,
    double? OffsetMm,
    double? Coupling,
    IReadOnlyList<TruthMode> Modes,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] PerPoint? EnergyWh,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] PerPoint? MaintenanceW,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? StartCharge,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? EndCharge,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? StoredWh,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthLosses? LossesWh,
    PerPoint NoLoadW,
    IReadOnlyList<TruthLog> Logs);

/// <summary>A stretch of one mode.</summary>
internal sealed record TruthMode(string Mode, double? StartS, double? EndS);

/// <summary>Where the energy of a charge goes.</summary>
internal sealed record TruthLosses(
    double? Adapter,
    double? Cable,
    double? Pad,
    double? PrimaryCoil,
    double? SecondaryCoil,
    double? Receiver,
    double? Charger,
    double? Cell,
    double? Background);

/// <summary>What happened to a log.</summary>
internal sealed record TruthLog(
    string File,
    string Point,
    string Meter,
    double? ClockAheadS,
    int Rows,
    int RowsLost,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? GapFromS,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? GapLengthS,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] double? CounterResetS);

/// <summary>A meter's errors; null for what it does not measure.</summary>
internal sealed record TruthMeter(
    string Name,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? Voltage,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? Current,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? Power,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? ApparentPower,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? PowerFactor,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? Energy,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? Charge,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? Temperature,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] TruthError? Frequency);

/// <summary>A meter's error of one quantity: a share of the reading, and a fixed part in its coherent unit.</summary>
internal sealed record TruthError(double? Gain, double? Offset);

/// <summary>How truth.json is written, made when the program is compiled.</summary>
[JsonSourceGenerationOptions(
    GenerationMode = JsonSourceGenerationMode.Metadata, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    WriteIndented = true, NewLine = "\n")]
[JsonSerializable(typeof(TruthDocument))]
internal sealed partial class TruthContext : JsonSerializerContext
{
    /// <summary>The text; only what JSON itself asks for is escaped.</summary>
    public static string Text(TruthDocument document)
    {
        var context = new TruthContext(new JsonSerializerOptions(Default.Options)
        {
            Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        });
        return JsonSerializer.Serialize(document, context.TruthDocument) + "\n";
    }
}
