using System.Text.Json.Serialization;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs;

/// <summary>What to do with the time between two rows that lie far apart.</summary>
public enum GapPolicy
{
    /// <summary>Take the straight line between its ends, or the counter's difference; its uncertainty spans what may have
    /// happened.</summary>
    [JsonStringEnumMemberName("bridge")] Bridge,

    /// <summary>Leave its time and energy out.</summary>
    [JsonStringEnumMemberName("exclude")] Exclude,

    /// <summary>Refuse the log.</summary>
    [JsonStringEnumMemberName("refuse")] Refuse,
}

/// <summary>Which direction of flow a log writes as positive.</summary>
public enum FlowSign
{
    /// <summary>Towards the device: the log's signs are taken as they stand.</summary>
    [JsonStringEnumMemberName("as-written")] AsWritten,

    /// <summary>Away from the device, as a meter writes it that was wired the other way round: the signs of current and power are
    /// turned.</summary>
    [JsonStringEnumMemberName("turned")] Turned,
}

/// <summary>What a user says about a column: where it is and in which unit.</summary>
/// <param name="Header">Header words, matched without regard to case; null where <paramref name="Position"/> is given.</param>
/// <param name="Position">Position counted from 1; null where <paramref name="Header"/> is given.</param>
/// <param name="Unit">Unit symbol; null for the plain unit of the quantity, or the header's own.</param>
public sealed record ColumnChoice(string? Header, int? Position, string? Unit);

/// <summary>What a user says about a log. Everything left null is found from the log itself.</summary>
public sealed record LogOptions
{
    /// <summary>Where the meter sits; decides which combinations of columns give real power.</summary>
    public MeasuringPoint? Point { get; init; }

    /// <summary>Which column holds what; empty: guessed from the header.</summary>
    public IReadOnlyDictionary<LogQuantity, ColumnChoice> Columns { get; init; } = new Dictionary<LogQuantity, ColumnChoice>();

    /// <summary>Name, or part of the name, of the series that is meant, in a log with a name and a value in each row; null: the only one of
    /// its quantity.</summary>
    public string? Series { get; init; }

    /// <summary>What a reading stands for; null: <see cref="SampleKind.Instantaneous"/>, unless the log shows that it is written on
    /// change.</summary>
    public SampleKind? Samples { get; init; }

    /// <summary>By how much a value must change before a new row is written; null: at most the smallest change seen. Stating it states that
    /// the log is written on change.</summary>
    public ChangeThreshold? ChangeThreshold { get; init; }

    /// <summary>IANA name of the zone of local times; null: times without offset are taken as they stand.</summary>
    public string? TimeZone { get; init; }

    /// <summary>What comes first in dates such as 03/04/2031; null: found from the dates of the whole file, else refused.</summary>
    public DateOrder? DateOrder { get; init; }

    /// <summary>Where the bytes of a log named <c>-</c> come from; null where there is no standard input.</summary>
    public Stream? StandardInput { get; init; }

    /// <summary>Whether large plain logs are parsed on several cores. The result is the same either way.</summary>
    public bool Parallel { get; init; } = true;

    /// <summary>Whether the rows will be read after the look. A large file's hash is then begun beside the look; the result is the same
    /// either way.</summary>
    public bool ReadFollows { get; init; }

    /// <summary>Bytes of a piece that one core parses at a time. The result is the same for any; tests cut at every place.</summary>
    internal int PieceBytes { get; init; } = LogLimits.PieceBytes;

    /// <summary>Asked at the end of a log that may grow whether to look for more; null: a log ends where it ends.</summary>
    internal Func<bool>? More { get; init; }

    /// <summary>Interval between rows where the log holds no time. [s]</summary>
    public double? FixedIntervalS { get; init; }

    /// <summary>Which direction of flow the log writes as positive.</summary>
    public FlowSign Sign { get; init; }

    /// <summary>How gaps are treated.</summary>
    public GapPolicy Gaps { get; init; } = GapPolicy.Bridge;

    /// <summary>
    /// Lines of rows that had been written before, as a first reading showed: they are counted as <c>repeated-rows</c> and left out before
    /// their times are judged. First and last line of each block, in rising order; for a log in one file only.
    /// </summary>
    public IReadOnlyList<(long From, long To)> RepeatedLines { get; init; } = [];

    /// <summary>Whether the first fault refuses the log.</summary>
    public bool Strict { get; init; }

    /// <summary>Share of bad rows above which a log is refused, 0 to 1.</summary>
    public double MaxBadRowShare { get; init; } = 0.05;
}
