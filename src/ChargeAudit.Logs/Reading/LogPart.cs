namespace ChargeAudit.Logs.Reading;

/// <summary>One of the byte ranges into which a log is cut.</summary>
/// <param name="Number">Which one, from 1.</param>
/// <param name="Count">How many there are.</param>
/// <param name="FromByte">Its first byte, from 0.</param>
/// <param name="ToByte">The byte after its last.</param>
/// <param name="LastRawS">Time of the row before it, as read; NaN for the first. [s]</param>
internal sealed record LogPart(int Number, int Count, long FromByte, long ToByte, double LastRawS);
