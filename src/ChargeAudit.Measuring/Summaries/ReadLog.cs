using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>A log as reading leaves it: all that its measurement is made of.</summary>
/// <param name="Own">How it was understood by itself.</param>
/// <param name="Resolution">Steps of its readings by quantity, including those that only its meter's other logs show. [coherent
/// unit]</param>
/// <param name="Source">Where its power comes from.</param>
/// <param name="Summary">What was summed.</param>
/// <param name="Outcomes">What was counted on the way, a file each.</param>
public sealed record ReadLog(LogLayout Own, IReadOnlyDictionary<LogQuantity, double> Resolution, PowerSource Source, LogSummary Summary,
    IReadOnlyList<ReadOutcome> Outcomes)
{
    /// <summary>How it is measured: by its own layout with the steps in force.</summary>
    public LogLayout Layout => Own with { Resolution = Resolution };

    /// <summary>The rows that it was made of, where they were kept.</summary>
    internal KeptRows? Rows { get; init; }

    /// <summary>What the summary says of itself, where the log was not read but its summary was; null where the log was read.</summary>
    public SummaryAbout? From { get; init; }
}
