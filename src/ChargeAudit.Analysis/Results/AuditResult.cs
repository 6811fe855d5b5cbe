using ChargeAudit.Analysis.Drafting;
using ChargeAudit.Analysis.Losses;
using ChargeAudit.Analysis.Placement;
using ChargeAudit.Analysis.Segmentation;
using ChargeAudit.Analysis.Studies;
using ChargeAudit.Analysis.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Analysis.Results;

/// <summary>The whole answer of an audit: what every writer turns into text and pictures. Immutable.</summary>
public sealed record AuditResult
{
    /// <summary>The study as the user wrote it, or as it was assumed.</summary>
    public required Study Study { get; init; }

    /// <summary>What was assumed where no study said, as sentences.</summary>
    public required IReadOnlyList<string> Assumptions { get; init; }

    /// <summary>One entry a method; the reference first.</summary>
    public required IReadOnlyList<MethodResult> Methods { get; init; }

    /// <summary>Every log once, in the order of the study.</summary>
    public required IReadOnlyList<LogMeasurement> Logs { get; init; }

    /// <summary>From each measured point to the next one downstream.</summary>
    public required IReadOnlyList<StageResult> Stages { get; init; }

    /// <summary>Where the energy of each method's charges goes; none for a method with fewer than two figures of a charge.</summary>
    public IReadOnlyList<LossResult> Losses { get; init; } = [];

    /// <summary>Adapters' efficiency over their load, where both sides were measured.</summary>
    public IReadOnlyList<AdapterCurveResult> AdapterCurves { get; init; } = [];

    /// <summary>Each method against the reference, at each point where both were measured; the points nearest the wall first.</summary>
    public required IReadOnlyList<ComparisonResult> Comparisons { get; init; }

    /// <summary>What speaks against the way in which the study puts its logs together, as sentences.</summary>
    public IReadOnlyList<string> Doubts { get; init; } = [];

    /// <summary>Why the figures may not be comparable.</summary>
    public required IReadOnlyList<FairnessNote> Fairness { get; init; }

    /// <summary>A year of each method beside a year of the reference.</summary>
    public IReadOnlyList<YearComparison> Years { get; init; } = [];

    /// <summary>When each method that has a purchase price pays against each other one; empty where none has.</summary>
    public IReadOnlyList<Payback> Paybacks { get; init; } = [];

    /// <summary>Published limits beside each method's figures, as information.</summary>
    public IReadOnlyList<MethodYardsticks> Yardsticks { get; init; } = [];

    /// <summary>The US procedure for each method; null where it was not asked for.</summary>
    public IReadOnlyList<MethodProcedure>? Procedure { get; init; }

    /// <summary>What the place of the device on the pad changes; null where no run that counts carries factors.</summary>
    public PlacementResult? Placement { get; init; }

    /// <summary>Where the results come from.</summary>
    public required Provenance Provenance { get; init; }
}

/// <summary>One way of charging, over all its runs.</summary>
public sealed record MethodResult
{
    /// <summary>Its name in the study.</summary>
    public required string Name { get; init; }

    /// <summary>By cable or by induction.</summary>
    public required MethodKind Kind { get; init; }

    /// <summary>All runs, those left out too.</summary>
    public required IReadOnlyList<RunResult> Runs { get; init; }

    /// <summary>Figures at each measuring point.</summary>
    public required IReadOnlyDictionary<MeasuringPoint, PointResult> Points { get; init; }

    /// <summary>A year at the wall.</summary>
    public required YearResult Yearly { get; init; }

    /// <summary>Measured beside possible; null where the study says nothing of the coils.</summary>
    public CoilsResult? Coils { get; init; }
}

/// <summary>One charge by one method.</summary>
public sealed record RunResult
{
    /// <summary>Method and number: <c>pad-2</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Absolute start of the charge; null where the logs hold none.</summary>
    public DateTimeOffset? Start { get; init; }

    /// <summary>Why it is left out; null where it counts.</summary>
    public string? Excluded { get; init; }

    /// <summary>State of charge at the start, where given. [%]</summary>
    public double? StartChargePercent { get; init; }

    /// <summary>State of charge at the end, where given. [%]</summary>
    public double? EndChargePercent { get; init; }

    /// <summary>Temperature of the room, as the study says, else the mean of the logs' own column; null where neither tells it. [°C]</summary>
    public double? TemperatureC { get; init; }

    /// <summary>Name of the adapter that fed it, where the study says.</summary>
    public string? Adapter { get; init; }

    /// <summary>What was measured at each point.</summary>
    public required IReadOnlyDictionary<MeasuringPoint, RunPointResult> Points { get; init; }

    /// <summary>Where the device lay, and what else was set for the run.</summary>
    public RunFactors Factors { get; init; } = RunFactors.None;

    /// <summary>How the clocks of its meters stand to each other; empty where there is one meter only.</summary>
    public IReadOnlyList<ClockResult> Clocks { get; init; } = [];
}

/// <summary>How the clock of one meter of a run stands to another's, as their power steps show it.</summary>
/// <param name="Point">The meter whose clock is judged.</param>
/// <param name="Reference">The meter it is judged by: the one nearest the device.</param>
/// <param name="AheadS">How far its clock shows a later time for the same moment; missing where the steps do not tell. [s]</param>
/// <param name="Applied">Whether the charge was carried from one log to the other with it.</param>
public sealed record ClockResult(MeasuringPoint Point, MeasuringPoint Reference, Figure AheadS, bool Applied);

/// <summary>One charge as seen at one measuring point.</summary>
/// <param name="Log">The log it comes from.</param>
/// <param name="Meter">Name of the meter; null where nobody said.</param>
/// <param name="Charge">When the charge ran, within the log.</param>
/// <param name="Energy">Energy over the charge; its uncertainty is the measurement part. [Wh]</param>
/// <param name="Maintenance">Mean power over the maintenance after the charge. [W]</param>
public sealed record RunPointResult(LogMeasurement Log, string? Meter, ModeSpan Charge, Measured Energy, Figure Maintenance)
{
    /// <summary>The modes of the log around this charge, which is one of them; they tile the part of the log that is this run's.</summary>
    public IReadOnlyList<ModeResult> Modes { get; init; } = Log?.Modes ?? [];

    /// <summary>How the power in maintenance was had, in sentences.</summary>
    public IReadOnlyList<string> MaintenanceNotes { get; init; } = [];
}

/// <summary>A method's figures at one measuring point.</summary>
/// <param name="EnergyPerCharge">Mean over the runs that count. [Wh]</param>
/// <param name="RunEnergiesWh">Energy of each run that counts. [Wh]</param>
/// <param name="ChargeDurationS">Mean length of the charge. [s]</param>
/// <param name="MaintenancePower">Power while full and still connected. [W]</param>
/// <param name="NoLoadPower">Power while waiting with no device. [W]</param>
public sealed record PointResult(
    Figure EnergyPerCharge, IReadOnlyList<double> RunEnergiesWh, double ChargeDurationS, Figure MaintenancePower, Figure NoLoadPower)
{
    /// <summary>How the stand-by powers were had, and what to think of them, in sentences.</summary>
    public IReadOnlyList<string> StandbyNotes { get; init; } = [];
}

/// <summary>What a year of use takes at the wall.</summary>
/// <param name="Energy">[kWh]</param>
/// <param name="Cost">In the tariff's currency; missing where there is no price.</param>
/// <param name="ByMode">The same by mode; the hours add up to the year's. A mode that cannot be told is missing with its reason, and then so is
/// the total; empty where not even the hours are known.</param>
public sealed record YearResult(Figure Energy, Figure Cost, IReadOnlyList<YearModeResult> ByMode)
{
    /// <summary>What else a year holds: shares, savings, what moves the result; null where the hours are not known.</summary>
    public YearDetail? Detail { get; init; }
}

/// <summary>A mode's share of a year.</summary>
/// <param name="Mode">The mode.</param>
/// <param name="HoursPerYear">[h]</param>
/// <param name="Energy">[kWh]</param>
/// <param name="Cost">In the tariff's currency.</param>
public sealed record YearModeResult(Mode Mode, double HoursPerYear, Figure Energy, Figure Cost);

/// <summary>One stage of the chain, over a charge.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="From">Point upstream.</param>
/// <param name="To">Point downstream.</param>
/// <param name="Efficiency">Energy out by energy in. [1]</param>
/// <param name="Loss">Energy in minus energy out, per charge. [Wh]</param>
public sealed record StageResult(string Method, MeasuringPoint From, MeasuringPoint To, Figure Efficiency, Figure Loss)
{
    /// <summary>What to think of more energy coming out than goes in; null where it does not.</summary>
    public EfficiencyCheck? Check { get; init; }
}

/// <summary>A method beside the reference at one point.</summary>
/// <param name="Reference">Name of the reference method.</param>
/// <param name="Method">Name of the method.</param>
/// <param name="Point">Where both were measured.</param>
/// <param name="OverheadRatio">Energy per charge by that of the reference. [1]</param>
/// <param name="ExtraEnergyPerCharge">[Wh]</param>
/// <param name="ExtraCostPerYear">In the tariff's currency; only at the wall.</param>
public sealed record ComparisonResult(
    string Reference, string Method, MeasuringPoint Point, Figure OverheadRatio, Figure ExtraEnergyPerCharge, Figure ExtraCostPerYear)
{
    /// <summary>The overhead ratio if the charges were ended by other rules; empty where the device itself said when it was full.</summary>
    public IReadOnlyList<EndRuleRatio> EndRules { get; init; } = [];
}

/// <summary>An overhead ratio by one rule for the end of a charge.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Ratio">The ratio; null where the rule finds no end in some run.</param>
/// <param name="WhyNot">Why there is none; null where there is one.</param>
public sealed record EndRuleRatio(EndRule Rule, double? Ratio, string? WhyNot);

/// <summary>A reason why runs may not be comparable.</summary>
/// <param name="Id">Stable kebab-case id, such as <c>different-end-state</c>.</param>
/// <param name="Text">What was found and what it means, in plain words.</param>
/// <param name="Runs">Ids of the runs it speaks of.</param>
public sealed record FairnessNote(string Id, string Text, IReadOnlyList<string> Runs);

/// <summary>Where results come from.</summary>
/// <param name="ProgramVersion">Version of the program.</param>
/// <param name="StudyFile">The study file as named; null where there was none.</param>
/// <param name="StudySha256">Hash of its bytes; null where there was none.</param>
/// <param name="Created">When.</param>
/// <param name="CommandLine">The command that made it.</param>
public sealed record Provenance(string ProgramVersion, string? StudyFile, string? StudySha256, DateTimeOffset Created, string CommandLine)
{
    /// <summary>Whether the study was drafted from a folder of logs on the way; what it rests on then stands among the assumptions.</summary>
    public bool Drafted { get; init; }

    /// <summary>Files of that folder that were not used, each with the reason.</summary>
    public IReadOnlyList<PassedOver> PassedOver { get; init; } = [];
}
