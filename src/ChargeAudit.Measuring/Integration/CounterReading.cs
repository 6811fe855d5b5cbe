namespace ChargeAudit.Measuring.Integration;

/// <summary>One reading of a cumulative counter.</summary>
/// <param name="TimeS">Time from the log's first sample. [s]</param>
/// <param name="ReadingJ">What the counter showed; for a charge counter in coulombs. [J]</param>
/// <param name="Line">Line number.</param>
/// <param name="AfterGap">Whether a gap lies before it.</param>
internal readonly record struct CounterReading(double TimeS, double ReadingJ, long Line, bool AfterGap);

/// <summary>What a reading of a counter is.</summary>
internal enum CounterVerdict : byte
{
    /// <summary>The counter went on to it.</summary>
    Good,

    /// <summary>It stands off the track to which the counter came back.</summary>
    Bad,

    /// <summary>The counter started again from zero before it.</summary>
    Reset,

    /// <summary>The counter fell, not to near zero, and went on from there: what flowed in between is not known.</summary>
    Fell,
}

/// <summary>A good reading as it is kept for the whole log.</summary>
/// <param name="TimeS">Time. [s]</param>
/// <param name="ReadingJ">What the counter showed. [J]</param>
/// <param name="Step">Good, or how the counter fell just before.</param>
/// <param name="AfterGap">Whether a gap lies before it.</param>
/// <param name="Line">Line number; 0 where it is not needed.</param>
internal readonly record struct CounterPoint(double TimeS, double ReadingJ, CounterVerdict Step, bool AfterGap, long Line = 0)
{
    /// <summary>How far the counter advanced to this reading from the one before. After a reset it started at zero, so its own reading is
    /// the least that has flowed since. [J]</summary>
    public double AdvanceFrom(in CounterPoint before) => Step switch
    {
        CounterVerdict.Reset => Math.Max(ReadingJ, 0),
        CounterVerdict.Fell => 0,
        _ => ReadingJ - before.ReadingJ,
    };
}
