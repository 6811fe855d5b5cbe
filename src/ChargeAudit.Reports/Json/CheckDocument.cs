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
    double Sum,
    double Limit,
    double ChecksBetweenFalseAlarms,
    double ChecksToFindOneSigma,
    double SinceFirst);

/// <summary>One figure of the candidate beside the baseline's.</summary>
internal sealed record CheckedFigureDocument(
    string Method,
    string Point,
    string Figure,
    string Verdict,
    bool FailsAdjusted,
    double Margin,
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
    double? FurtherCandidateRuns, string? FurtherCandidateRunsReason, double? FurtherBaselineRuns, string? FurtherBaselineRunsReason, string Sentence);
