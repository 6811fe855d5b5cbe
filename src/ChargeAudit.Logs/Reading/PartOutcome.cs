using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Reading;

/// <summary>Where a part of a log begins, for whoever reads its rows.</summary>
/// <param name="LinesBefore">Lines before it; 0 where they have not been counted.</param>
/// <param name="OffsetS">What turns a time as read into a sample's time. [s]</param>
/// <param name="LastRawS">Time of the row before it, as read. [s]</param>
internal readonly record struct PartStart(long LinesBefore, double OffsetS, double LastRawS);

/// <summary>What reading a part of a log counted, so that parts add up to the log.</summary>
/// <param name="Outcome">Rows, faults and hash of the part.</param>
/// <param name="Incomplete">Rows kept of which an electrical reading could not be read.</param>
/// <param name="Lines">Number of its last line.</param>
/// <param name="Held">Whether values hold until the next row.</param>
/// <param name="PassedOver">What was passed over without being a fault, as <see cref="OddRows.PassedOver"/> has it.</param>
/// <param name="FromOffsetS">What turns a time as read into a sample's time, at its start. [s]</param>
/// <param name="ToOffsetS">The same at its end: another where the clock was set. [s]</param>
/// <param name="LastRawS">Time of its last row, as read. [s]</param>
internal sealed record PartOutcome(ReadOutcome Outcome, long Incomplete, long Lines, bool Held, IReadOnlyList<FaultTally> PassedOver,
    double FromOffsetS, double ToOffsetS, double LastRawS);
