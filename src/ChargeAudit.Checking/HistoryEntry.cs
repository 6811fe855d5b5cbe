using System.Text.Json.Serialization;
using ChargeAudit.Logs;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>One check in a history.</summary>
/// <param name="Time">When it was made.</param>
/// <param name="Candidate">Title of the candidate's study.</param>
/// <param name="CandidateSha256">Hash over the candidate's logs.</param>
/// <param name="BaselineSha256">Hash of the baseline's file.</param>
/// <param name="Verdict">What it found.</param>
/// <param name="Device">Name of the device; null where not given.</param>
/// <param name="Figures">Its figures; those known on both sides.</param>
public sealed record HistoryEntry(
    DateTimeOffset Time, string Candidate, string CandidateSha256, string BaselineSha256, CheckVerdict Verdict, string? Device,
        IReadOnlyList<HistoryFigure> Figures)
{
    /// <summary>SHA-256 of every log of the candidate; null in entries of older versions.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Logs { get; init; }

    /// <summary>The plan of looks that it was made by; null without one.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Plan { get; init; }

    /// <summary>Name of the candidate's wired reference; null where it has none.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? WiredReference { get; init; }

    /// <summary>The entry of a check.</summary>
    /// <param name="result">The check.</param>
    /// <param name="time">When it was made.</param>
    public static HistoryEntry Of(CheckResult result, DateTimeOffset time)
    {
        ArgumentNullException.ThrowIfNull(result);
        return new HistoryEntry(
            time,
            result.Candidate,
            result.CandidateSha256,
            result.BaselineSha256,
            result.Verdict,
            result.Device,
            [
                .. result.Figures.Where(f => f.Candidate is not null && f.Baseline is not null).Select(f => new HistoryFigure(
                    f.Method, f.Point, f.Figure, f.Candidate!.Unit,
                    f.Candidate.Value, f.CandidateRuns, Known(f.CandidateScatter), f.Baseline!.Value, f.BaselineRuns,
                        Known(f.BaselineScatter), f.Verdict, f.Meters)),
            ])
        {
            Logs = [.. result.CandidateLogs.Order(StringComparer.Ordinal)],
            Plan = result.Plan,
            WiredReference = result.WiredReference,
        };
    }

    // JSON has no word for what is not a number.
    private static double? Known(double? scatter) => scatter is { } share && double.IsFinite(share) ? share : null;
}

/// <summary>A figure of a check in a history.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Point">Where it was measured.</param>
/// <param name="Figure">Which figure.</param>
/// <param name="Unit">Unit of both values.</param>
/// <param name="Candidate">The candidate's.</param>
/// <param name="CandidateRuns">Runs behind it. [1]</param>
/// <param name="CandidateScatter">Scatter of a single one, as a share; null where not known. [1]</param>
/// <param name="Baseline">The baseline's.</param>
/// <param name="BaselineRuns">Runs behind it. [1]</param>
/// <param name="BaselineScatter">Scatter of a single one, as a share; null where not known. [1]</param>
/// <param name="Verdict">What was found.</param>
/// <param name="Meters">What it was measured with.</param>
public sealed record HistoryFigure(
    string Method,
    MeasuringPoint Point,
    CheckedFigure Figure,
    string Unit,
    double Candidate,
    int CandidateRuns,
    double? CandidateScatter,
    double Baseline,
    int BaselineRuns,
    double? BaselineScatter,
    CheckVerdict Verdict,
    IReadOnlyList<string> Meters);
