namespace ChargeAudit.Checking;

/// <summary>What would turn an inconclusive figure into a verdict, if the true ratio is the one found.</summary>
/// <param name="FurtherCandidateRuns">Further runs of the candidate; null where no number can. [1]</param>
/// <param name="FurtherBaselineRuns">Further runs of the baseline; null where no number can. [1]</param>
/// <param name="Sentence">The same in words.</param>
public sealed record Settling(int? FurtherCandidateRuns, int? FurtherBaselineRuns, string Sentence);
