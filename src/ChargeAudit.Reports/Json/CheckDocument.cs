using System.Text.Json.Serialization;
using ChargeAudit.Checking.Documents;

namespace ChargeAudit.Reports.Json;

/// <summary>The verdict of a check.</summary>
internal sealed record CheckDocument(
    string Schema,
    string Verdict,
    MeasuredDocument? Ratio,
    string? RatioReason,
    double Margin,
    string DecidedBy,
    double Alpha,
    IReadOnlyList<string> Reasons,
    IReadOnlyList<CheckedFigureDocument> Figures,
    IReadOnlyList<string> NotCompared,
    IReadOnlyList<DriftDocument> Drift,
    LooksDocument? Looks,
    string? LooksReason,
    DriftDetectionDocument? DriftDetection,
    string? DriftDetectionReason,
    CandidateDocument Candidate,
    BaselineDocument Baseline);

/// <summary>What was tested, by its logs.</summary>
internal sealed record CandidateDocument(string Title, string LogsSha256);

/// <summary>What it was tested against, by its file.</summary>
internal sealed record BaselineDocument(string Title, string Sha256);

/// <summary>A slow change over many checks.</summary>
internal sealed record DriftDocument(
    string Method,
    string Point,
    string Figure,
    bool Alarm,
    bool BeyondMargin,
    int Checks,
    double Score,
    double Limit,
    double ChecksBetweenFalseAlarms,
    int ChangedAfter,
    double Change,
    double SinceFirst,
    string Cause,
    string? CauseReason);

/// <summary>How often the candidate was looked at.</summary>
internal sealed record LooksDocument(
    bool Planned,
    int Number,
    IReadOnlyList<int> Runs,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Spending,
    double Level,
    double Risk,
    string Sentence);

/// <summary>How soon the drift chart finds a step.</summary>
internal sealed record DriftDetectionDocument(
    int Figures, double ChecksBetweenFalseAlarms, IReadOnlyList<DriftCaseDocument> Cases, IReadOnlyList<string> Promise);

/// <summary>One case of it.</summary>
internal sealed record DriftCaseDocument(
    int QuietChecks,
    double StepSigma,
    string Moves,
    double Within5,
    double Within10,
    double Within20,
    double? PossibleWithin20,
    string? PossibleWithin20Reason,
    int? FirstQuarter,
    string? FirstQuarterReason,
    int? Median,
    string? MedianReason,
    int? ThirdQuarter,
    string? ThirdQuarterReason);

/// <summary>One figure of the candidate beside the baseline's.</summary>
internal sealed record CheckedFigureDocument(
    string Method,
    string Point,
    string Figure,
    string Verdict,
    bool FailsAdjusted,
    double Margin,
    double Level,
    MeasuredDocument? Ratio,
    string? RatioReason,
    double? LowerBound,
    string? LowerBoundReason,
    double? UpperBound,
    string? UpperBoundReason,
    double? T,
    string? TReason,
    double? Dof,
    string? DofReason,
    double? PWithin,
    string? PWithinReason,
    double? PBeyond,
    string? PBeyondReason,
    double? PBeyondAdjusted,
    string? PBeyondAdjustedReason,
    MeasuredDocument? Candidate,
    string? CandidateReason,
    MeasuredDocument? Baseline,
    string? BaselineReason,
    int CandidateRuns,
    int BaselineRuns,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Note,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] SettlingDocument? Settling);

/// <summary>What would settle an open question.</summary>
internal sealed record SettlingDocument(
    double? FurtherCandidateRuns, string? FurtherCandidateRunsReason, double? FurtherBaselineRuns, string? FurtherBaselineRunsReason,
        string Sentence);
