using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Rows whose reading is a word such as <c>unavailable</c>: they hold no value. In a log written on change such a row ends the value held
/// until then, and the time from there to the next reading is a gap; a missing row ends nothing.
/// </summary>
/// <param name="held">Whether values hold until the next row.</param>
internal sealed class AwayRows(bool held)
{
    private Sample? _last;
    private bool _isAway;
    /// <summary>Whether values hold until the next row.</summary>
    public bool Held => held;

    /// <summary>The last reading.</summary>
    public Sample Last => _last!.Value;

    /// <summary>Such rows.</summary>
    public FaultTally Rows { get; private set; }

    /// <summary>What was passed over, in words.</summary>
    public static IEnumerable<string> NotesOf(FaultTally rows, bool held) => rows.Count == 0 ? [] :
    [
        InvariantText.Of(
            $"{rows.Count} {(rows.Count == 1 ? "row says" : "rows say")} in place of a reading that the sensor was not available, the "
            + $"first at line {rows.FirstLine}; ")
            + (held ? "what was held ends there, and the time to the next reading is a gap." : "they were passed over."),
    ];

    /// <summary>Counts such a row; returns whether it ends a value that was held.</summary>
    public bool Begins(long line)
    {
        Rows = Rows.Plus(line);
        bool begins = held && !_isAway && _last is not null;
        _isAway |= begins;
        return begins;
    }

    /// <summary>A reading on its way, marked where the sensor was away before it.</summary>
    public Sample Passes(Sample sample)
    {
        sample = _isAway ? sample with { AfterAway = true } : sample;
        _isAway = false;
        _last = sample with { AfterAway = false };
        return sample;
    }
}
