using System.Text.Json.Serialization;

namespace ChargeAudit.Cli.Page;

/// <summary>A log as the page lists it.</summary>
/// <param name="Id">Its random name.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="Kind">wired, inductive, or empty where nothing tells.</param>
/// <param name="Point">Word of the measuring point.</param>
/// <param name="Waiting">Whether its charger waits with no device.</param>
/// <param name="Why">What the guess rests on.</param>
public sealed record ListedLog(string Id, string Name, string Kind, string Point, bool Waiting, IReadOnlyList<string> Why);

/// <summary>The logs so far.</summary>
/// <param name="Logs">In the order in which they came.</param>
public sealed record PageState(IReadOnlyList<ListedLog> Logs);

/// <summary>What a user says of one log.</summary>
/// <param name="Id">Its random name.</param>
/// <param name="Kind">wired, inductive, not used, or empty: the guess.</param>
/// <param name="Point">Word of the measuring point; empty: the guess.</param>
public sealed record SaidOfLog(string Id, string Kind, string Point);

/// <summary>What a user says before the report is made.</summary>
/// <param name="Logs">Of each log.</param>
/// <param name="Price">Of a kilowatt-hour; null: none.</param>
/// <param name="Currency">ISO 4217; null: none.</param>
/// <param name="ChargesPerWeek">Null: as usual.</param>
/// <param name="HoursOnCharger">After which the device is taken off; null: when it is full. [h]</param>
public sealed record SaidOnPage(IReadOnlyList<SaidOfLog>? Logs, double? Price, string? Currency, double? ChargesPerWeek,
    double? HoursOnCharger);

/// <summary>The report is there.</summary>
/// <param name="Assumptions">What was assumed.</param>
public sealed record ReportMade(IReadOnlyList<string> Assumptions);

/// <summary>What went wrong.</summary>
/// <param name="Error">One sentence.</param>
public sealed record PageError(string Error);

/// <summary>Writes and reads these without reflection.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(PageState))]
[JsonSerializable(typeof(SaidOnPage))]
[JsonSerializable(typeof(ReportMade))]
[JsonSerializable(typeof(PageError))]
internal sealed partial class PageJson : JsonSerializerContext;
