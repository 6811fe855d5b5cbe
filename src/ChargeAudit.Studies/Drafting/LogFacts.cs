using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies.Drafting;

/// <summary>What a draft decides by: what one log shows of itself. Immutable.</summary>
public sealed record LogFacts
{
    /// <summary>Files of the log in the order of time, relative to the folder, with forward slashes.</summary>
    public required IReadOnlyList<string> Files { get; init; }

    /// <summary>What its columns hold.</summary>
    public required IReadOnlySet<LogQuantity> Quantities { get; init; }

    /// <summary>Short name of the file format: <c>text</c> for delimited text.</summary>
    public string Format { get; init; } = "text";

    /// <summary>Format, separators, headers and units in one string: the same for two logs that one kind of meter wrote.</summary>
    public required string Dialect { get; init; }

    /// <summary>Mean voltage; null where the log has none. [V]</summary>
    public double? MeanVoltageV { get; init; }

    /// <summary>Absolute time of the first sample; null where the log holds elapsed time only.</summary>
    public DateTimeOffset? Start { get; init; }

    /// <summary>Clock time of the first sample where the log holds clock times without a date. [s since midnight]</summary>
    public double? ClockOfDayS { get; init; }

    /// <summary>What the user said about all logs of the folder; null for nothing.</summary>
    public LogOptions? Told { get; init; }

    /// <summary>Whether <see cref="Start"/> stands in local time of an unknown zone.</summary>
    public bool StartIsLocal { get; init; }

    /// <summary>From the first to the last sample. [s]</summary>
    public required double DurationS { get; init; }

    /// <summary>Usual time between rows. [s]</summary>
    public double IntervalS { get; init; } = 1;

    /// <summary>Charges, without those that move next to nothing compared with the greatest.</summary>
    public IReadOnlyList<ChargeFacts> Charges { get; init; } = [];

    /// <summary>Whether its charge draws so little that a waiting charger might.</summary>
    public bool Faint { get; init; }

    /// <summary>What it takes while it waits with no device; null where the log shows no waiting.</summary>
    public WaitingFacts? Waiting { get; init; }

    /// <summary>Power over time.</summary>
    public required PowerEnvelope Envelope { get; init; }

    /// <summary>Order of day and month that had to be guessed to read it; null where nothing had to be.</summary>
    public DateOrder? GuessedDateOrder { get; init; }

    /// <summary>Which recording it is; null where nobody asked.</summary>
    internal LogOrigin? Origin { get; init; }

    /// <summary>Its first file.</summary>
    public string File => Files[0];

    /// <summary>End on its own clock; null where the log holds elapsed time only.</summary>
    public DateTimeOffset? End => Start?.AddSeconds(DurationS);

    /// <summary>Energy of its charges. [Wh]</summary>
    public double ChargedWh => Charges.Sum(c => c.EnergyWh);

    /// <summary>Whether another holds a file of the same recording: a summary of this log, or one of the same log as this summary.</summary>
    /// <param name="other">What the other shows.</param>
    public bool SharesRecordingWith(LogFacts other) =>
        Origin is { } origin && other?.Origin is { } others && (origin.Said ?? others.Said) is not null && origin.Shares(others);
}

/// <summary>One charge in a log.</summary>
/// <param name="Session">Its number among all charges of the log, counted from 1.</param>
/// <param name="StartS">Start, from the log's first sample. [s]</param>
/// <param name="EndS">End. [s]</param>
/// <param name="EnergyWh">Energy. [Wh]</param>
/// <param name="EndShare">Power at the very end divided by the greatest power kept up: how far it tapers. [1]</param>
public sealed record ChargeFacts(int Session, double StartS, double EndS, double EnergyWh, double EndShare);

/// <summary>How a charger waits with no device.</summary>
/// <param name="MeanW">Mean power. [W]</param>
/// <param name="PulseW">Height that short pulses reach again and again; zero where there are none. [W]</param>
/// <param name="LengthS">Length of the waiting. [s]</param>
public sealed record WaitingFacts(double MeanW, double PulseW, double LengthS);
