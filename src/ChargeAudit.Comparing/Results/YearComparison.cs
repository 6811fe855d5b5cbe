using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Yearly;

namespace ChargeAudit.Comparing.Results;

/// <summary>A year of a method beside a year of the reference, at the wall.</summary>
/// <param name="Reference">Name of the reference method.</param>
/// <param name="Method">Name of the method.</param>
/// <param name="Difference">Method minus reference.</param>
public sealed record YearComparison(string Reference, string Method, YearDifference Difference);

/// <summary>Published limits beside one method's figures, as information.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Findings">One entry for each limit; empty where none can be named.</param>
public sealed record MethodYardsticks(string Method, IReadOnlyList<YardstickFinding> Findings);
