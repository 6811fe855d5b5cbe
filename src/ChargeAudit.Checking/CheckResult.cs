using System.Text.Json.Serialization;
using ChargeAudit.Checking.Drift;
using ChargeAudit.Checking.Looks;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>What a check found.</summary>
public enum CheckVerdict
{
    /// <summary>Shown to be within the margin.</summary>
    [JsonStringEnumMemberName("pass")] Pass,

    /// <summary>Shown to be beyond the margin.</summary>
    [JsonStringEnumMemberName("fail")] Fail,

    /// <summary>Neither is shown.</summary>
    [JsonStringEnumMemberName("inconclusive")] Inconclusive,
}

/// <summary>A candidate against its baseline: what every writer turns into text. Immutable.</summary>
public sealed record CheckResult
{
    /// <summary>Pass: every figure is shown to be within its margin. Fail: one is shown to be beyond it with Holm's adjustment, or
    /// drifts.</summary>
    public required CheckVerdict Verdict { get; init; }

    /// <summary>Level of each one-sided test. [1]</summary>
    public required double Alpha { get; init; }

    /// <summary>The figures, in the order of methods and points.</summary>
    public required IReadOnlyList<FigureCheck> Figures { get; init; }

    /// <summary>What was not compared and why, as sentences.</summary>
    public required IReadOnlyList<string> NotCompared { get; init; }

    /// <summary>Why the verdict is what it is, as sentences.</summary>
    public IReadOnlyList<string> Reasons => Told.Value;

    // Worded only when somebody asks: to find how many runs would settle a figure costs more than its test.
    internal Lazy<IReadOnlyList<string>> Told { get; init; } = new(() => []);

    /// <summary>Name of the device; null where not given.</summary>
    public string? Device { get; init; }

    /// <summary>Title of the candidate's study.</summary>
    public required string Candidate { get; init; }

    /// <summary>Hash over the candidate's logs.</summary>
    public required string CandidateSha256 { get; init; }

    /// <summary>Title of the baseline's study.</summary>
    public required string Baseline { get; init; }

    /// <summary>Hash of the baseline's file.</summary>
    public required string BaselineSha256 { get; init; }

    /// <summary>How often the candidate was looked at; null where neither a plan nor a history tells.</summary>
    public LookReport? Looks { get; init; }

    /// <summary>The plan of looks as a word for a history, such as <c>obrien-fleming 3 6 9</c>; null without one.</summary>
    public string? Plan { get; init; }

    /// <summary>SHA-256 of every log of the candidate.</summary>
    public IReadOnlyList<string> CandidateLogs { get; init; } = [];

    /// <summary>Name of the candidate's wired reference; null where it has none.</summary>
    public string? WiredReference { get; init; }

    /// <summary>What the drift chart could have found by now; null where there is no chart.</summary>
    public DriftPower? DriftPower { get; init; }

    /// <summary>Slow drifts over the history; empty where no history was given.</summary>
    public IReadOnlyList<DriftFinding> Drifts { get; init; } = [];

    /// <summary>The figure that decides: the one furthest beyond its margin, or the one least clearly within it.</summary>
    public FigureCheck Decisive => Verdict == CheckVerdict.Fail && Figures.Any(f => f.FailsAdjusted)
        ? Figures.Where(f => f.FailsAdjusted).MinBy(f => f.Test!.PBeyond)!
        : Figures.OrderByDescending(f => f.Test?.PWithin ?? 2).First();
}

/// <summary>One figure of one method at one point against the baseline's.</summary>
public sealed record FigureCheck
{
    /// <summary>Name of the method.</summary>
    public required string Method { get; init; }

    /// <summary>Where it was measured.</summary>
    public required MeasuringPoint Point { get; init; }

    /// <summary>Which figure.</summary>
    public required CheckedFigure Figure { get; init; }

    /// <summary>By its bounds at α, before any adjustment.</summary>
    public required CheckVerdict Verdict { get; init; }

    /// <summary>How much greater it may be. [1]</summary>
    public required double Margin { get; init; }

    /// <summary>The candidate's figure; null where it has none.</summary>
    public Measured? Candidate { get; init; }

    /// <summary>The baseline's figure; null where it has none.</summary>
    public Measured? Baseline { get; init; }

    /// <summary>Meters that it was measured with, on both sides.</summary>
    public IReadOnlyList<string> Meters { get; init; } = [];

    /// <summary>One-sided level that it was tested at: α, or that of the look where looks are planned. [1]</summary>
    public double Level { get; init; }

    /// <summary>Candidate divided by baseline, with its 95 % interval; null where one is missing. [1]</summary>
    public Measured? Ratio { get; init; }

    /// <summary>The test; null where there can be none.</summary>
    public MarginTest? Test { get; init; }

    /// <summary><see cref="MarginTest.PBeyond"/>, adjusted for all looks where looks are planned, and after that by Holm over all figures
    /// tested; null where there is no test. [1]</summary>
    public double? PBeyondAdjusted { get; init; }

    /// <summary>Whether it is beyond its margin even after the adjustment.</summary>
    public bool FailsAdjusted { get; init; }

    /// <summary>Runs of the candidate behind the figure. [1]</summary>
    public required int CandidateRuns { get; init; }

    /// <summary>Runs of the baseline behind the figure. [1]</summary>
    public required int BaselineRuns { get; init; }

    /// <summary>Scatter of a single run of the candidate, as a share; null where not known. [1]</summary>
    public double? CandidateScatter { get; init; }

    /// <summary>Scatter of a single run of the baseline, as a share; null where not known. [1]</summary>
    public double? BaselineScatter { get; init; }

    /// <summary>Where its method stands in the plan of looks; null without a plan.</summary>
    public PlannedLook? Look { get; init; }

    /// <summary>What would settle it; null where it is settled.</summary>
    public Settling? Settling => Open?.Value;

    // Worked out only where somebody asks, since it costs more than the test.
    internal Lazy<Settling>? Open { get; init; }

    /// <summary>Why there is no test, or another remark, as a sentence; null where there is none.</summary>
    public string? Note { get; init; }
}
