using System.Text.Json.Serialization;
using ChargeAudit.Coils;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Studies;

/// <summary>A way of charging.</summary>
public enum MethodKind
{
    /// <summary>By cable.</summary>
    [JsonStringEnumMemberName("wired")] Wired,

    /// <summary>By a pad or stand, with coils.</summary>
    [JsonStringEnumMemberName("inductive")] Inductive,
}

/// <summary>What a user wants compared: logs, meters, methods, use and tariff. Immutable; made from a TOML file or from the command
/// line.</summary>
public sealed record Study
{
    /// <summary>Title for people.</summary>
    public required string Title { get; init; }

    /// <summary>Name of the method that the others are divided by.</summary>
    public required string Reference { get; init; }

    /// <summary>The device charged.</summary>
    public DeviceInfo Device { get; init; } = new();

    /// <summary>Meters by name.</summary>
    public IReadOnlyDictionary<string, Meter> Meters { get; init; } = new Dictionary<string, Meter>();

    /// <summary>Methods in the order of the file.</summary>
    public required IReadOnlyList<Method> Methods { get; init; }

    /// <summary>Runs in the order of the file.</summary>
    public required IReadOnlyList<Run> Runs { get; init; }

    /// <summary>Logs of chargers waiting with no device.</summary>
    public IReadOnlyList<StandbyLog> Standby { get; init; } = [];

    /// <summary>How the charger is used; what a method overrides stands in <see cref="Method.Use"/>.</summary>
    public Use Use { get; init; } = new();

    /// <summary>The price of energy; null: cost is not worked out.</summary>
    public Tariff? Tariff { get; init; }

    /// <summary>What the household uses besides; only tiers need it.</summary>
    public Household? Household { get; init; }

    /// <summary>The adapter that feeds every method; null: unknown.</summary>
    public AdapterInfo? Adapter { get; init; }

    /// <summary>Emissions per energy; null: not worked out.</summary>
    public CarbonFactor? Carbon { get; init; }

    /// <summary>How modes are told apart; null: by default.</summary>
    public ModeOptions? Modes { get; init; }

    /// <summary>What a check against a baseline asks for.</summary>
    public CheckRules Check { get; init; } = new();

    /// <summary>What is asked of the place of the device on the pad.</summary>
    public PlacementRules Placement { get; init; } = new();

    /// <summary>Folder that relative log paths start from.</summary>
    public required string Folder { get; init; }
}

/// <summary>The device charged.</summary>
public sealed record DeviceInfo
{
    /// <summary>Name for people.</summary>
    public string? Name { get; init; }

    /// <summary>Rated energy of the battery. [Wh]</summary>
    public double? BatteryWh { get; init; }

    /// <summary>Measured discharge energy of the battery. [Wh]</summary>
    public double? BatteryDischargeWh { get; init; }

    /// <summary>Half-width within which <see cref="BatteryDischargeWh"/> is known; null: its uncertainty is unknown. [Wh]</summary>
    public double? BatteryDischargeWithinWh { get; init; }

    /// <summary>Nominal voltage of the battery; the US procedure's classes depend on it. [V]</summary>
    public double? BatteryV { get; init; }
}

/// <summary>A method.</summary>
/// <param name="Name">Its name in the study.</param>
/// <param name="Kind">By cable or on a pad.</param>
/// <param name="Use">What differs from the study's use; null: nothing.</param>
public sealed record Method(string Name, MethodKind Kind, UseOverride? Use = null)
{
    /// <summary>This method's own adapter; null: the study's.</summary>
    public AdapterInfo? Adapter { get; init; }

    /// <summary>What the charger costs to buy, in the tariff's currency; null: not given.</summary>
    public double? PurchasePrice { get; init; }

    /// <summary>For the US procedure: whether the device can lie in one place only; null: anywhere on a pad.</summary>
    public PadPlacement? Placement { get; init; }

    /// <summary>Resistance of the cable, there and back; null: not given. [Ω]</summary>
    public double? CableOhm { get; init; }

    /// <summary>For the US procedure: whether the charger is made for a wet place.</summary>
    public bool WetEnvironment { get; init; }

    /// <summary>What is known about the coils of pad and receiver; null: nothing. Where it is given, its link is known.</summary>
    public CoilData? Coils { get; init; }

    /// <summary>How the battery meets the charger.</summary>
    public ChargerCoupling Coupling => Kind == MethodKind.Wired ? ChargerCoupling.Wired : WetEnvironment
        ? ChargerCoupling.InductiveWet
        : ChargerCoupling.InductiveDry;
}

/// <summary>The files of one log.</summary>
/// <param name="Files">Paths as written, in order.</param>
/// <param name="Meter">Name of the meter; null where not given.</param>
public sealed record LogReference(IReadOnlyList<string> Files, string? Meter)
{
    /// <summary>Names for people, one for each file, where the files' own names are not meant for them; null: the files' names.</summary>
    public IReadOnlyList<string>? Names { get; init; }
}

/// <summary>One charge of the device by one method.</summary>
public sealed record Run
{
    /// <summary>Method and number: <c>pad-2</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Name of the method.</summary>
    public required string Method { get; init; }

    /// <summary>A log at each measuring point.</summary>
    public required IReadOnlyDictionary<MeasuringPoint, LogReference> Logs { get; init; }

    /// <summary>State of charge at the start. [%]</summary>
    public double? StartChargePercent { get; init; }

    /// <summary>State of charge at the end. [%]</summary>
    public double? EndChargePercent { get; init; }

    /// <summary>Only what follows this; absolute, or seconds from the log's start. </summary>
    public LogTime? From { get; init; }

    /// <summary>Only what precedes this.</summary>
    public LogTime? To { get; init; }

    /// <summary>Which of the log's charges this is, counted from 1; null: the only one.</summary>
    public int? Session { get; init; }

    /// <summary>When the device said it was full.</summary>
    public LogTime? FullAt { get; init; }

    /// <summary>Temperature of the room; null where not given. [°C]</summary>
    public double? TemperatureC { get; init; }

    /// <summary>Name of the adapter that fed it; null where not given.</summary>
    public string? Adapter { get; init; }

    /// <summary>The block that it was made in: a day, a set-up, an operator, a place; null where it was not stated.</summary>
    public string? Block { get; init; }

    /// <summary>Why the run is left out; null where it counts.</summary>
    public string? Exclude { get; init; }

    /// <summary>Where the device lay, and what else was set for the run.</summary>
    public RunFactors Factors { get; init; } = RunFactors.None;
}

/// <summary>Logs of a charger waiting with no device.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Logs">A log at each measuring point.</param>
public sealed record StandbyLog(string Method, IReadOnlyDictionary<MeasuringPoint, LogReference> Logs);
