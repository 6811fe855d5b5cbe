namespace ChargeAudit.Measuring.Segmentation;

/// <summary>What a log was made for, where the study says so.</summary>
public enum LogPurpose
{
    /// <summary>Not stated: anything may happen in it.</summary>
    Unknown,

    /// <summary>The charger waits with no device: no charge is looked for.</summary>
    Standby,

    /// <summary>A charge was logged: it is looked for however little it draws.</summary>
    Charge,
}

/// <summary>
/// How modes are told apart. Levels are shares of what the log itself shows; only two figures are in watts, and they matter only where a
/// log holds a single level and so gives nothing to compare with. Immutable.
/// </summary>
public sealed record ModeOptions
{
    /// <summary>The defaults.</summary>
    public static ModeOptions Default { get; } = new();

    /// <summary>What the log was made for.</summary>
    public LogPurpose Purpose { get; init; }

    /// <summary>
    /// Shortest stretch that counts as a charge; shorter bursts are placement attempts, pulses or top-ups. Default 120, from 10 to 3600;
    /// never less than four intervals between readings. Larger: short visits to the charger count as waiting. [s]
    /// </summary>
    public double LeastChargeS { get; init; } = 120;

    /// <summary>
    /// Longest interruption (heat, a device lost and found again) after which the same charge goes on. Default 1800, from 0 to 7200.
    /// Larger: two devices that follow one another may be taken for one charge. [s]
    /// </summary>
    public double LongestPauseS { get; init; } = 1800;

    /// <summary>
    /// A burst after a charge that moves no more than this share of the charge's energy is a top-up of a full battery, and a larger one
    /// another charge. Default 0.08, from 0 to 0.5. [1]
    /// </summary>
    public double TopUpShare { get; init; } = 0.08;

    /// <summary>
    /// A log that nowhere keeps above this for <see cref="LeastChargeS"/> holds no charge, unless its power rises to five times its idle
    /// level. Default 1.2, from 0.05 to 10. Above the usual draw of a waiting pad, below the slowest usual charge; common practice, no
    /// source. [W]
    /// </summary>
    public double LeastChargePowerW { get; init; } = 1.2;

    /// <summary>
    /// Zero offset that a meter may show with nothing connected, as a share of the greatest sustained power. Default 0.0005, from 0 to
    /// 0.01. Larger: a very small no-load power is taken for off. [1]
    /// </summary>
    public double ZeroShareOfPlateau { get; init; } = 0.0005;

    /// <summary>How far below zero a reading may lie and still be a zero of this meter; nothing flows back there. Default 0, known from the
    /// meter. [W]</summary>
    public double MeterZeroW { get; init; }

    /// <summary>How often a logger that writes on change looks for a change. Default 0, known from the log's times. [s]</summary>
    public double LookS { get; init; }

    /// <summary>Change of power that goes unwritten in such a log. Default 0, known from the log. [W]</summary>
    public double UnwrittenW { get; init; }

    /// <summary>Whether a sudden step lies between the two rows that show it, as with means and instantaneous readings; counters and held
    /// values may show it late. Default no, known from the log.</summary>
    public bool StepsLieBetweenRows { get; init; }

    /// <summary>Power while waiting with no device, where a log of its own has shown it; null: taken from this log alone. [W]</summary>
    public double? NoLoadPowerW { get; init; }

    /// <summary>The greatest that it may be, where that log's meter tells it no better; zero where it is exact. [W]</summary>
    internal double NoLoadMostW { get; init; }

    /// <summary>
    /// Weight of the penalty for each further change point, in units of ln n per parameter. Default 1 (the Bayesian information criterion),
    /// from 0.5 to 10. Larger: small steps are overlooked. [1]
    /// </summary>
    public double PenaltyWeight { get; init; } = 1;
}
