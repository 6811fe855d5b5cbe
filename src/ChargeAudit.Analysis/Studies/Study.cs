using ChargeAudit.Logs;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Analysis.Studies;

/// <summary>A way of charging.</summary>
public enum MethodKind
{
    /// <summary>By cable.</summary>
    Wired,

    /// <summary>By a pad or stand, with coils.</summary>
    Inductive,
}

/// <summary>What a user wants compared: logs, meters, methods, use and tariff. Immutable; made from a TOML file or from the command line.</summary>
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
}

/// <summary>A meter: where it sits, how it samples and how well.</summary>
public sealed record Meter
{
    /// <summary>Its name in the study.</summary>
    public required string Name { get; init; }

    /// <summary>How its logs are read.</summary>
    public LogOptions Options { get; init; } = new();

    /// <summary>Accuracy per quantity as the data sheet gives it, such as <c>0.05 % + 2 mV</c>; empty: unknown.</summary>
    public IReadOnlyDictionary<LogQuantity, string> Accuracy { get; init; } = new Dictionary<LogQuantity, string>();

    /// <summary>Resistance that it puts into the line. [Ω]</summary>
    public double? BurdenOhm { get; init; }

    /// <summary>What it takes for itself. [W]</summary>
    public double? SelfPowerW { get; init; }

    /// <summary>The point whose reading includes <see cref="SelfPowerW"/>.</summary>
    public MeasuringPoint? SelfPowerFrom { get; init; }
}

/// <summary>A method.</summary>
/// <param name="Name">Its name in the study.</param>
/// <param name="Kind">By cable or by induction.</param>
/// <param name="Use">What differs from the study's use; null: nothing.</param>
public sealed record Method(string Name, MethodKind Kind, UseOverride? Use = null);

/// <summary>The files of one log.</summary>
/// <param name="Files">Paths as written, in order.</param>
/// <param name="Meter">Name of the meter; null where not given.</param>
public sealed record LogReference(IReadOnlyList<string> Files, string? Meter);

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

    /// <summary>Why the run is left out; null where it counts.</summary>
    public string? Exclude { get; init; }
}

/// <summary>A point in a log: an absolute time, or seconds from its first sample.</summary>
/// <param name="Absolute">Absolute time; null where <paramref name="ElapsedS"/> is given.</param>
/// <param name="ElapsedS">Seconds from the first sample; null where <paramref name="Absolute"/> is given. [s]</param>
/// <param name="HasOffset">Whether the absolute time was written with an offset; otherwise it is local time of the log.</param>
public sealed record LogTime(DateTimeOffset? Absolute, double? ElapsedS, bool HasOffset);

/// <summary>Logs of a charger waiting with no device.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Logs">A log at each measuring point.</param>
public sealed record StandbyLog(string Method, IReadOnlyDictionary<MeasuringPoint, LogReference> Logs);

/// <summary>How a charger is used over a week.</summary>
public sealed record Use
{
    /// <summary>Charges in a week.</summary>
    public double ChargesPerWeek { get; init; } = 7;

    /// <summary>Share of a full charge that a usual charge gives, 0 to 100. [%]</summary>
    public double ChargeSharePercent { get; init; } = 100;

    /// <summary>Hours that the device lies on the charger each time, charge included; null: it is taken off when full. [h]</summary>
    public double? HoursOnChargerPerCharge { get; init; }

    /// <summary>Whether the charger stays in the socket when no device is on it.</summary>
    public bool PluggedInAllDay { get; init; } = true;

    /// <summary>Which of these the user gave, by their names in the study file; the others are the program's defaults.</summary>
    public IReadOnlySet<string> Given { get; init; } = new HashSet<string>();
}

/// <summary>What one method's use differs in; null: as the study's.</summary>
public sealed record UseOverride(double? ChargesPerWeek, double? ChargeSharePercent, double? HoursOnChargerPerCharge, bool? PluggedInAllDay);

/// <summary>The price of energy.</summary>
/// <param name="Currency">ISO 4217 code.</param>
/// <param name="PricePerKwh">Flat price, in the currency per kWh.</param>
public sealed record Tariff(string Currency, double PricePerKwh);
