using ChargeAudit.Comparing.Fairness;
using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Placement;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Comparing.Results;

/// <summary>The whole answer of an audit: what every writer turns into text and pictures. Immutable.</summary>
public sealed record AuditResult
{
    /// <summary>The study as the user wrote it, or as it was assumed.</summary>
    public required Study Study { get; init; }

    /// <summary>What was assumed where no study states it, as sentences.</summary>
    public required IReadOnlyList<string> Assumptions { get; init; }

    /// <summary>One entry for each method; the reference first.</summary>
    public required IReadOnlyList<MethodResult> Methods { get; init; }

    /// <summary>Every log once, in the order of the study.</summary>
    public required IReadOnlyList<LogMeasurement> Logs { get; init; }

    /// <summary>What calibrations of meters changed, figure by figure; empty where no meter was calibrated.</summary>
    public IReadOnlyList<CorrectionResult> Corrections { get; init; } = [];

    /// <summary>From each measured point to the next one downstream.</summary>
    public required IReadOnlyList<StageResult> Stages { get; init; }

    /// <summary>Where the energy of each method's charges goes; none for a method with fewer than two figures of a charge.</summary>
    public IReadOnlyList<LossResult> Losses { get; init; } = [];

    /// <summary>Adapters' efficiency over their load, where both sides were measured.</summary>
    public IReadOnlyList<AdapterCurveResult> AdapterCurves { get; init; } = [];

    /// <summary>Why an adapter that was measured on both sides has no curve, as sentences.</summary>
    public IReadOnlyList<string> NoAdapterCurve { get; init; } = [];

    /// <summary>Each method against the reference, at each point where both were measured; the points nearest the wall first.</summary>
    public required IReadOnlyList<ComparisonResult> Comparisons { get; init; }

    /// <summary>What speaks against the way in which the study puts its logs together, as sentences.</summary>
    public IReadOnlyList<string> Doubts { get; init; } = [];

    /// <summary>Why the figures may not be comparable.</summary>
    public required IReadOnlyList<FairnessNote> Fairness { get; init; }

    /// <summary>A year of each method beside a year of the reference.</summary>
    public IReadOnlyList<YearComparison> Years { get; init; } = [];

    /// <summary>When each method that has a purchase price pays for itself against each other one; empty where none has a price.</summary>
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

/// <summary>One stage of the chain, over a charge.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="From">Point upstream.</param>
/// <param name="To">Point downstream.</param>
/// <param name="Efficiency">Energy out divided by energy in. [1]</param>
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
/// <param name="OverheadRatio">Energy per charge divided by that of the reference. [1]</param>
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

/// <summary>Where results come from.</summary>
/// <param name="ProgramVersion">Version of the program.</param>
/// <param name="StudyFile">The study file as named; null where there was none.</param>
/// <param name="StudySha256">Hash of its bytes; null where there was none.</param>
/// <param name="Created">When.</param>
/// <param name="CommandLine">The command that made them; null where the library was called by another program.</param>
public sealed record Provenance(string ProgramVersion, string? StudyFile, string? StudySha256, DateTimeOffset Created, string? CommandLine)
{
    /// <summary>SHA-256 of the list of files of the bundle that holds this report; null where it is in none.</summary>
    public string? BundleSha256 { get; init; }

    /// <summary>Whether the audit drafted its study from a folder of logs; what the draft rests on is then among the assumptions.</summary>
    public bool Drafted { get; init; }

    /// <summary>Files of that folder that were not used, each with the reason.</summary>
    public IReadOnlyList<PassedOver> PassedOver { get; init; } = [];
}
