namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>All faults of one kind in one log: how many, where the first and last are, and what was done about them.</summary>
/// <param name="Kind">What is wrong.</param>
/// <param name="FirstLine">Line number of the first, counted from 1; 0 where no line applies.</param>
/// <param name="LastLine">Line number of the last.</param>
/// <param name="Count">How many there are.</param>
/// <param name="Detail">What was found and what was done, as one sentence without a line number.</param>
public sealed record Fault(FaultKind Kind, long FirstLine, long LastLine, long Count, string Detail);
