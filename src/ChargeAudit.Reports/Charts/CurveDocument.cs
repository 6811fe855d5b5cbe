using System.Text.Json.Serialization;

namespace ChargeAudit.Reports.Charts;

/// <summary>The curves of a chart over time, as the page's script reads them.</summary>
/// <param name="What"><c>power</c> or <c>energy</c>.</param>
/// <param name="Unit">Unit of the values.</param>
/// <param name="TimeUnit">Unit of the chart's times.</param>
/// <param name="PerUnit">Seconds in it.</param>
/// <param name="From">Start of the first cell. [s]</param>
/// <param name="Step">Length of a cell. [s]</param>
/// <param name="Series">A curve for each method.</param>
internal sealed record CurveDocument(
    string What, string Unit, string TimeUnit, int PerUnit, double From, double Step, IReadOnlyList<CurveSeries> Series);

/// <summary>One curve; a cell without readings is null.</summary>
/// <param name="Name">The method.</param>
/// <param name="Color">Its colour.</param>
/// <param name="Mean">Its values.</param>
/// <param name="Least">The least reading in each cell; null for a curve of sums.</param>
/// <param name="Greatest">The greatest.</param>
/// <param name="Modes">What the charger was doing.</param>
internal sealed record CurveSeries(
    string Name,
    string Color,
    IReadOnlyList<double?> Mean,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<double?>? Least,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<double?>? Greatest,
    IReadOnlyList<CurveMode> Modes);

/// <summary>A stretch of one mode, in seconds from the start of the charge, and how it is drawn.</summary>
internal sealed record CurveMode(string Mode, double Strength, string Text, double Start, double End);

/// <summary>How curves become JSON, made when the program is compiled.</summary>
[JsonSourceGenerationOptions(GenerationMode = JsonSourceGenerationMode.Metadata, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(CurveDocument))]
internal sealed partial class CurveContext : JsonSerializerContext;
