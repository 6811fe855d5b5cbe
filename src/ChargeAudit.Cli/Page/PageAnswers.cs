using System.Text.Json.Serialization;

namespace ChargeAudit.Cli.Page;

/// <summary>A log as the page lists it.</summary>
/// <param name="Id">Its random name.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="Kind">wired, inductive, or empty where nothing tells.</param>
/// <param name="Point">Word of the measuring point.</param>
/// <param name="Waiting">Whether its charger waits with no device.</param>
/// <param name="Why">What the guess rests on.</param>
/// <param name="Method">Name of its method; empty where nothing tells.</param>
/// <param name="Columns">Its columns as the user named them; empty: as they were found.</param>
/// <param name="DateOrder">Word of the order of day and month as the user said; empty: as it was found.</param>
public sealed record ListedLog(string Id, string Name, string Kind, string Point, bool Waiting, IReadOnlyList<string> Why,
    string Method = "", string Columns = "", string DateOrder = "");

/// <summary>All that a page shows when it is loaded again, or a second time.</summary>
/// <param name="Logs">In the order in which they came.</param>
public sealed record PageState(IReadOnlyList<ListedLog> Logs)
{
    /// <summary>What speaks against the logs as they are, such as the same log twice.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>What the user said last; null: nothing yet.</summary>
    public SaidOnPage? Said { get; init; }

    /// <summary>The report made last; null where there is none.</summary>
    public ReportMade? Made { get; init; }

    /// <summary>Whether logs or answers have changed since that report.</summary>
    public bool Stale { get; init; }
}

/// <summary>How one log is to be read and called.</summary>
/// <param name="Id">Its random name.</param>
/// <param name="Name">Its name for people; empty: as it is.</param>
/// <param name="Columns">Its columns by position, units in brackets; empty: as they are found.</param>
/// <param name="DateOrder">Word of the order of day and month; empty: as it is found.</param>
public sealed record SaidReading(string Id, string? Name, string? Columns, string? DateOrder);

/// <summary>One log.</summary>
/// <param name="Id">Its random name.</param>
public sealed record SaidLog(string Id);

/// <summary>What a user says about one log.</summary>
/// <param name="Id">Its random name.</param>
/// <param name="Kind">wired, inductive, not used, or empty: the guess.</param>
/// <param name="Point">Word of the measuring point; empty: the guess.</param>
/// <param name="Method">Name of its method; empty: the guess.</param>
public sealed record SaidOfLog(string Id, string Kind, string Point, string? Method = null);

/// <summary>What a user says before the report is made.</summary>
/// <param name="Logs">Of each log.</param>
/// <param name="Price">Of a kilowatt-hour; null: none.</param>
/// <param name="Currency">ISO 4217; null: none.</param>
/// <param name="ChargesPerWeek">Null: as usual.</param>
/// <param name="HoursOnCharger">After which the device is taken off; null: when it is full. [h]</param>
/// <param name="StartPercent">How full the battery was when charges started; null: not known. [%]</param>
/// <param name="EndPercent">How full it was when they ended; null: not known. [%]</param>
/// <param name="Accuracy">Accuracies of the meters by the words of their measuring points.</param>
/// <param name="PriceIsRight">Whether a price that looks like one in cents is meant as it is.</param>
/// <param name="Locale">Tag of how numbers and dates are written; empty or null: as the program was told.</param>
public sealed record SaidOnPage(IReadOnlyList<SaidOfLog>? Logs, double? Price, string? Currency, double? ChargesPerWeek,
    double? HoursOnCharger, double? StartPercent = null, double? EndPercent = null, Dictionary<string, string>? Accuracy = null,
    bool? PriceIsRight = null, string? Locale = null);

/// <summary>The report is there.</summary>
/// <param name="Assumptions">What was assumed.</param>
/// <param name="Answers">The answer in sentences.</param>
public sealed record ReportMade(IReadOnlyList<string> Assumptions, IReadOnlyList<string> Answers);

/// <summary>What went wrong, or what is asked.</summary>
/// <param name="Error">One sentence.</param>
/// <param name="MeantPrice">The price that was probably meant; null where nothing is asked.</param>
public sealed record PageError(string Error, double? MeantPrice = null);

/// <summary>Writes and reads these without reflection.</summary>
[JsonSourceGenerationOptions(GenerationMode = JsonSourceGenerationMode.Metadata, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(PageState))]
[JsonSerializable(typeof(SaidOnPage))]
[JsonSerializable(typeof(SaidReading))]
[JsonSerializable(typeof(SaidLog))]
[JsonSerializable(typeof(ReportMade))]
[JsonSerializable(typeof(PageError))]
internal sealed partial class PageJson : JsonSerializerContext;
