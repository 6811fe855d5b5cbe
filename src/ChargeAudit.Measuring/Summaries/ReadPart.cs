using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>A part of a log as reading leaves it.</summary>
/// <param name="Own">How the log was understood.</param>
/// <param name="Resolution">Steps of its readings by quantity, including those that only its meter's other logs show. [coherent
/// unit]</param>
/// <param name="State">What was summed, not finished.</param>
/// <param name="Part">Which part it is, and what was counted.</param>
internal sealed record ReadPart(LogLayout Own, IReadOnlyDictionary<LogQuantity, double> Resolution, SummaryState State, SummaryPart Part)
{
    /// <summary>What its file says of itself; null where it was read from the log.</summary>
    public SummaryAbout? From { get; init; }
}
