using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>
/// A design as one audit measured it, reduced to what a check compares. The same whether it comes from an audit just made or from its
/// <c>results.json</c>. Immutable.
/// </summary>
public sealed record MeasuredDesign
{
    /// <summary>Name for messages: the study's title.</summary>
    public required string Title { get; init; }

    /// <summary>Name of the device; null where not given.</summary>
    public string? DeviceName { get; init; }

    /// <summary>Rated energy of its battery; null where not given. [Wh]</summary>
    public double? BatteryWh { get; init; }

    /// <summary>Name of the method that the others are compared with; null where not known.</summary>
    public string? Reference { get; init; }

    /// <summary>Its ways of charging.</summary>
    public required IReadOnlyList<DesignMethod> Methods { get; init; }

    /// <summary>SHA-256 of every log, lower-case hexadecimal.</summary>
    public required IReadOnlySet<string> LogSha256 { get; init; }

    /// <summary>SHA-256 of what identifies the measurement: of the results file, or of all the logs together.</summary>
    public required string Sha256 { get; init; }
}

/// <summary>One way of charging.</summary>
/// <param name="Name">Its name in the study.</param>
/// <param name="Kind">By cable or on a pad.</param>
/// <param name="Runs">The runs that count.</param>
/// <param name="Points">Figures at each point that a meter sat at; derived ones are left out.</param>
public sealed record DesignMethod(
    string Name, MethodKind Kind, IReadOnlyList<DesignRun> Runs, IReadOnlyDictionary<MeasuringPoint, DesignPoint> Points);

/// <summary>A run that counts.</summary>
/// <param name="Id">Method and number.</param>
/// <param name="StartChargePercent">State of charge at the start; null where not given. [%]</param>
/// <param name="EndChargePercent">State of charge at the end; null where not given. [%]</param>
/// <param name="Points">What was seen at each point.</param>
public sealed record DesignRun(
    string Id, double? StartChargePercent, double? EndChargePercent, IReadOnlyDictionary<MeasuringPoint, DesignRunPoint> Points)
{
    /// <summary>The block that it was made in (day, set-up); null where it was not stated.</summary>
    public string? Block { get; init; }

    /// <summary>Where the device lay, and what else was set for the run.</summary>
    public RunFactors Factors { get; init; } = RunFactors.None;
}

/// <summary>A run at one point.</summary>
/// <param name="ChargeDurationS">Length of the charge. [s]</param>
/// <param name="IntervalS">Usual interval between the log's rows. [s]</param>
/// <param name="PeakPowerW">Greatest reading of its log; null where the log holds other runs too. [W]</param>
/// <param name="PeakStepW">Step of the power readings; null where not known. [W]</param>
/// <param name="Meter">Name of the meter; null where it was not stated.</param>
/// <param name="Files">The log's files.</param>
public sealed record DesignRunPoint(
    double ChargeDurationS, double IntervalS, double? PeakPowerW, double? PeakStepW, string? Meter, IReadOnlyList<string> Files)
{
    /// <summary>SHA-256 of the files.</summary>
    public IReadOnlyList<string> Sha256 { get; init; } = [];
}

/// <summary>Figures at one point.</summary>
/// <param name="EnergyPerCharge">Mean over the runs. [Wh]</param>
/// <param name="NoLoadPower">While waiting with no device. [W]</param>
/// <param name="MaintenancePower">While full and still connected. [W]</param>
public sealed record DesignPoint(Figure EnergyPerCharge, Figure NoLoadPower, Figure MaintenancePower)
{
    /// <summary>SHA-256 of the stand-by logs; empty where there are none or they are not known.</summary>
    public IReadOnlyList<string> StandbySha256 { get; init; } = [];
}
