using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Reading;

/// <summary>What reading a log counted.</summary>
/// <param name="Rows">Rows of readings that became samples.</param>
/// <param name="RowsSkipped">Rows that did not; each is in a fault.</param>
/// <param name="Bytes">Bytes read.</param>
/// <param name="Faults">Faults of rows, one entry for each kind, in the order of first lines.</param>
/// <param name="Sha256">SHA-256 of the file's bytes, in lower-case hexadecimal.</param>
public sealed record ReadOutcome(long Rows, long RowsSkipped, long Bytes, IReadOnlyList<Fault> Faults, string Sha256)
{
    /// <summary>What was passed over without being a fault: comment lines, repeated headers, text after the last row.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}
