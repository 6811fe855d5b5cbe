using System.Text.Json.Serialization;
using ChargeAudit.Checking.Documents;
using ChargeAudit.Coils;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>Two coupled coils as a document.</summary>
internal static class CoilsJson
{
    public static CoilsDocument Of(CoilReport report) => new(
        SchemaNames.Coils,
        Known.Finite(report.PrimaryResonanceHz),
        Known.Finite(report.SecondaryResonanceHz),
        Known.Finite(report.Data.GeometricMutualH),
        report.Link is { } link ? Link(link) : null,
        Known.Unless(report.Link, $"still needed: {string.Join(", ", report.Data.Missing)}"),
        report.Link is null ? null : [.. report.Circuits.Select(Circuit)],
        report.Link is not null && report.Sweep is { } sweep
            ? new(Known.Finite(sweep.LoadOhm), sweep.IsSplit, [.. sweep.PeaksHz], [.. sweep.ZeroPhaseHz])
            : null);

    private static LinkDocument Link(CoilLink link) => new(
        Known.Finite(link.Coupling),
        Known.Finite(link.MutualH),
        Known.Finite(link.FigureOfMerit),
        Known.Finite(link.MaximumEfficiency),
        new(Known.Finite(link.T.PrimaryArmH), Known.Finite(link.T.SecondaryArmH), Known.Finite(link.T.ShuntH)));

    private static CircuitDocument Circuit(CircuitFigures circuit) => new(
        StableName.Of(circuit.Circuit.Kind),
        Known.Finite(circuit.Circuit.PrimaryF),
        Known.Finite(circuit.Circuit.SecondaryF),
        Known.Finite(circuit.BestLoadOhm),
        Known.Finite(circuit.BestEfficiency),
        Known.Finite(circuit.LoadOhm),
        Known.Finite(circuit.Efficiency),
        Known.Finite(circuit.InputOhm),
        Known.Finite(circuit.InputPhaseDegrees),
        Known.Finite(circuit.VoltageTransfer),
        Known.Finite(circuit.OpenTransfer),
        Known.Finite(circuit.OpenPhaseDegrees),
        Known.Finite(circuit.ShortPhaseDegrees));
}

/// <summary>Two coupled coils.</summary>
internal sealed record CoilsDocument(
    string Schema,
    double? PrimaryResonanceHz,
    double? SecondaryResonanceHz,
    double? GeometricMutualH,
    LinkDocument? Link,
    string? LinkReason,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<CircuitDocument>? Circuits,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] SweepDocument? Sweep);

/// <summary>How they are coupled.</summary>
internal sealed record LinkDocument(
    double? Coupling, double? MutualH, double? FigureOfMerit, double? MaximumEfficiency, TEquivalentDocument TEquivalent);

/// <summary>The same as three inductances.</summary>
internal sealed record TEquivalentDocument(double? PrimaryArmH, double? SecondaryArmH, double? ShuntH);

/// <summary>One way to compensate them.</summary>
internal sealed record CircuitDocument(
    string Compensation,
    double? PrimaryF,
    double? SecondaryF,
    double? BestLoadOhm,
    double? BestEfficiency,
    double? LoadOhm,
    double? Efficiency,
    double? InputOhm,
    double? InputPhaseDegrees,
    double? VoltageTransfer,
    double? OpenTransfer,
    double? OpenPhaseDegrees,
    double? ShortPhaseDegrees);

/// <summary>Load power over frequency.</summary>
internal sealed record SweepDocument(double? LoadOhm, bool Split, IReadOnlyList<double> PeaksHz, IReadOnlyList<double> ZeroPhaseHz);
