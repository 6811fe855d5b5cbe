using System.Text.Json.Serialization;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Layout;

/// <summary>How the fields of a text log are told apart.</summary>
/// <param name="Encoding">Name of the character encoding.</param>
/// <param name="Separator">Character between fields; a space stands for runs of spaces.</param>
/// <param name="DecimalSeparator">Point or comma.</param>
/// <param name="HeaderLine">Line number of the header; null where there is none.</param>
/// <param name="FirstDataLine">Line number of the first row of readings.</param>
public sealed record Dialect(string Encoding, char Separator, char DecimalSeparator, long? HeaderLine, long FirstDataLine);

/// <summary>What the first, bounded look at a log found. The reading that follows uses it unchanged.</summary>
public sealed record LogLayout
{
    private const double HourS = 3600;

    /// <summary>Short name of the file format: <c>text</c> for delimited text.</summary>
    public required string Format { get; init; }

    /// <summary>How fields are told apart; null for formats that are not text tables.</summary>
    public Dialect? Dialect { get; init; }

    /// <summary>All columns in order, used or not.</summary>
    public required IReadOnlyList<LogColumn> Columns { get; init; }

    /// <summary>How the table was understood where it is not a plain one with a column for each quantity, in words; null where it is
    /// one.</summary>
    public string? TableForm { get; init; }

    /// <summary>Language of the header's words, in English; null where they are the trade's signs alone, or there is no header.</summary>
    public string? HeaderLanguage { get; init; }

    /// <summary>How times are written, in words: <c>ISO 8601 with offset</c>, <c>elapsed seconds</c> …</summary>
    public required string TimeForm { get; init; }

    /// <summary>Absolute time of the first sample; null where the log holds only elapsed time.</summary>
    public DateTimeOffset? Start { get; init; }

    /// <summary>Whether <see cref="Start"/> stands in local time of an unknown zone (its offset is then zero by convention).</summary>
    public bool StartIsLocal { get; init; }

    /// <summary>Clock time of the first row where the log holds clock times without a date; null for others. [s since midnight]</summary>
    public double? ClockOfDayS { get; init; }

    /// <summary>Median interval between rows. [s]</summary>
    public required double MedianIntervalS { get; init; }

    /// <summary>About how many rows the log holds, by the length of the lines seen; rather too few than too many, and null where that
    /// cannot be told.</summary>
    public long? RowsAbout { get; init; }

    /// <summary>What a reading stands for.</summary>
    public required SampleKind Samples { get; init; }

    /// <summary>How <see cref="Samples"/> was decided.</summary>
    public required string SamplesWhy { get; init; }

    /// <summary>The change that a log written on change leaves unwritten; null for other logs, and where nothing changes.</summary>
    public ChangeThreshold? ChangeThreshold { get; init; }

    /// <summary>
    /// Step of the readings of each quantity, in the coherent unit: of the lattice on which they lie, at least one in the last place
    /// printed; absent where it cannot be told.
    /// </summary>
    public IReadOnlyDictionary<LogQuantity, double> Resolution { get; init; } = new Dictionary<LogQuantity, double>();

    /// <summary>Whether the power column is the product of the printed voltage and current, so that their steps are hidden in it.</summary>
    public bool PowerIsProduct { get; init; }

    /// <summary>What the steps were told from.</summary>
    [JsonInclude]
    internal IReadOnlyDictionary<LogQuantity, Logs.Layout.StepEvidence> Steps { get; init; } =
        new Dictionary<LogQuantity, Logs.Layout.StepEvidence>();

    /// <summary>What the reader wants the user to know: choices it made between two readings, and why.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>Those of the notes that are about a choice which may be wrong; strict reading refuses it.</summary>
    public IReadOnlyList<string> Ambiguities { get; init; } = [];

    /// <summary>How the table is turned into one with a column for each quantity; null where it is one.</summary>
    internal Formats.IReshape? Reshape { get; init; }

    /// <summary>Encoding of a text that is reshaped.</summary>
    internal Streams.TextEncoding ReshapeFrom { get; init; }

    /// <summary>What the row reader needs as well; null only for layouts that were not made by a reader.</summary>
    internal TextPlan? Plan { get; init; }

    /// <summary>Copy of a log that came on standard input and can be read only once from there.</summary>
    internal Logs.Streams.Spool? Spool { get; init; }

    /// <summary>What was unpacked of a packed file whose format has to be opened more than once.</summary>
    internal Logs.Streams.Spool? Unpacked { get; init; }

    /// <summary>The file's hash, begun with the look; null where it is worked out during the reading.</summary>
    internal Sources.EarlyHash? Hash { get; init; }

    /// <summary>Layouts of all files where several follow one another; empty for a single file.</summary>
    [JsonInclude]
    internal IReadOnlyList<LogLayout> Parts { get; init; } = [];

    /// <summary>Lets go of what the look left open for the reading: the copy of a log that cannot be read twice, the hash at
    /// work.</summary>
    internal void Close()
    {
        Hash?.Stop();
        Spool?.Dispose();
        Unpacked?.Dispose();
        foreach (LogLayout part in Parts)
        {
            part.Close();
        }
    }

    /// <summary>Whether the log holds this quantity.</summary>
    public bool Has(LogQuantity quantity) => Columns.Any(c => c.Quantity == quantity);

    /// <summary>The column of the power factor where that may be the displacement factor; null where it is not, or there is none.</summary>
    public LogColumn? DoubtedPowerFactor => Columns.FirstOrDefault(c => c.Quantity == LogQuantity.PowerFactor && c.MayBeDisplacement);

    /// <summary>Longest step from row to row that needs no judgement. [s]</summary>
    internal double PlainStepS => Math.Max(5 * MedianIntervalS, 2);

    /// <summary>Length of the interval that each row's energy belongs to; zero where rows hold no such energies. [s]</summary>
    [JsonInclude]
    internal double IntervalS { get; init; }

    /// <summary>An interval above this is a gap; positive infinity for logs written on change. However slow the rows, one that is an hour
    /// longer than the others is a gap. [s]</summary>
    public double GapThresholdS => Samples == SampleKind.OnChange ? double.PositiveInfinity
        : IntervalS > 0 ? 1.5 * IntervalS
        : Math.Max(2, Math.Min(5 * MedianIntervalS, Math.Max(1.5 * MedianIntervalS, HourS + (0.6 * MedianIntervalS))));
}
