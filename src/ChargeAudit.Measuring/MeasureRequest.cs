using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring;

/// <summary>One log to measure.</summary>
public sealed record MeasureRequest
{
    /// <summary>Paths that can be opened, in order of time.</summary>
    public required IReadOnlyList<string> Paths { get; init; }

    /// <summary>The log's bytes, where it is not a file: from the stream's position to its end. <see cref="Paths"/> then holds one name
    /// for it; null: the paths are opened.</summary>
    public Stream? Content { get; init; }

    /// <summary>Names for people, one per path; null: the paths themselves.</summary>
    public IReadOnlyList<string>? Names { get; init; }

    /// <summary>Name of the log for the sources of uncertainty that are its own; null: the first name.</summary>
    public string? LogId { get; init; }

    /// <summary>What is fed, such as the method: errors that depend on its kind of current are one within it, and do not cancel against
    /// another's. Null: one load only.</summary>
    public string? Load { get; init; }

    /// <summary>The meter; null where it was not stated.</summary>
    public Meter? Meter { get; init; }

    /// <summary>Where the meter sat; null where it was not stated.</summary>
    public MeasuringPoint? Point { get; init; }

    /// <summary>Whether the first fault refuses the log.</summary>
    public bool Strict { get; init; }

    /// <summary>Only what follows this; null: from the start.</summary>
    public LogTime? From { get; init; }

    /// <summary>Only what precedes this; null: to the end.</summary>
    public LogTime? To { get; init; }

    /// <summary>Which columns give real power, where the log holds several; null: the best for the energy of a charge.</summary>
    public PowerSource? Source { get; init; }

    /// <summary>All logs of the meter, for the steps of readings that this log does not show by itself; asked only then. Null: there are no
    /// others.</summary>
    public Func<IReadOnlyList<LogLayout>>? LogsOfMeter { get; init; }

    /// <summary>Where summaries of logs stand, to be used in place of reading, and added to; null: nowhere.</summary>
    public SummaryFolder? Summaries { get; init; }

    /// <summary>Whether the rows are kept for a summary's file, though no folder of summaries takes it.</summary>
    internal bool KeepsRows { get; init; }

    /// <summary>How modes are found.</summary>
    public ModeOptions Modes { get; init; } = new();
}
