using System.Globalization;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Cleaning;

/// <summary>
/// Lets samples through in rising time. Rows out of order are dropped and counted; where the clock was set, later times are shifted so
/// that time goes on by the median interval; several rows under one coarse stamp are spread evenly.
/// </summary>
/// <typeparam name="TSink">Where samples go.</typeparam>
internal ref struct SampleGate<TSink>(ref TSink sink, LogLayout layout, FaultCounts tally,
    IReadOnlyList<(long From, long To)> repeatedLines)
    where TSink : struct, ISampleSink
{
    // So many rows must go on from the new time before the clock counts as set: fewer are rows out of order, or a block written twice.
    private const int RowsThatConfirm = 32;

    private readonly ref TSink sink = ref sink;
    private readonly FaultCounts tally = tally;
    private readonly double medianS = layout.MedianIntervalS;
    private readonly double jumpS = Math.Max(5 * layout.MedianIntervalS, 2);
    private readonly StampSpreader? spreader = layout.Plan!.Time.RowsPerStamp > 0 ? new StampSpreader(layout.Plan.Time) : null;
    private readonly RepeatedLines? repeated = repeatedLines.Count > 0 ? new RepeatedLines(repeatedLines, tally) : null;
    private Sample[]? held;
    private int heldCount;
    private double lastRawS;
    private double heldRawS;
    private bool started;
    private bool heldAhead;

    /// <summary>What turns a raw time into a sample's time. [s]</summary>
    public double OffsetS { get; private set; }

    /// <summary>Samples let through.</summary>
    public long Passed { get; private set; }

    /// <summary>Rows dropped because their time stands out of order.</summary>
    public long Dropped { get; private set; }

    /// <summary>Rows left out because they were written before.</summary>
    public readonly long Repeated => repeated?.Count ?? 0;

    /// <summary>Takes the next row.</summary>
    /// <param name="rawS">Its time as read. [s]</param>
    /// <param name="sample">The row; its time is <paramref name="rawS"/> plus <see cref="OffsetS"/>.</param>
    public void Push(double rawS, in Sample sample)
    {
        if (repeated is not null && repeated.Takes(sample.Line))
        {
            return;
        }

        double stepS = rawS - lastRawS;
        if (stepS > 0 && stepS <= jumpS && heldCount == 0 && started)
        {
            lastRawS = rawS;
            Emit(in sample);
            return;
        }

        PushUnusual(rawS, sample);
    }

    /// <summary>Where samples go.</summary>
    public readonly ref TSink Sink => ref sink;

    /// <summary>Longest step from row to row that needs no judgement. [s]</summary>
    public readonly double PlainStepS => jumpS;

    /// <summary>Whether rows in plain steps would go straight to the sink, so that a piece of them may be summed elsewhere.</summary>
    public readonly bool IsPlain => started && heldCount == 0 && spreader is null;

    /// <summary>Counts a piece of rows in plain steps that reached the sink another way.</summary>
    /// <param name="firstRawS">Time of its first row as read. [s]</param>
    /// <param name="lastRawS">Time of its last row as read. [s]</param>
    /// <param name="rows">How many there are.</param>
    /// <returns>Whether the piece may be taken; otherwise its rows have to be pushed.</returns>
    public bool TryPass(double firstRawS, double lastRawS, long rows)
    {
        double stepS = firstRawS - this.lastRawS;
        if (!(IsPlain && stepS > 0 && stepS <= jumpS))
        {
            return false;
        }

        this.lastRawS = lastRawS;
        Passed += rows;
        return true;
    }

    /// <summary>Settles what is still held back at the end of the log.</summary>
    public void Finish()
    {
        if (heldCount > 1 || (heldCount == 1 && heldAhead))
        {
            Release();
        }
        else if (heldCount == 1)
        {
            Drop();
        }

        spreader?.Finish(ref sink, tally);
    }

    private void PushUnusual(double rawS, Sample sample)
    {
        if (!started)
        {
            started = true;
            OffsetS = -rawS;
            lastRawS = rawS;
            Emit(sample with { TimeS = 0 });
            return;
        }

        if (heldCount > 0 && !Settle(rawS, sample))
        {
            return;
        }

        // What was held is settled: the row is judged against the last one let through.
        double stepS = rawS - lastRawS;
        sample = sample with { TimeS = rawS + OffsetS };
        if (stepS < 0 || stepS > jumpS)
        {
            heldAhead = stepS > 0;
            Hold(rawS, sample);
            return;
        }

        if (stepS == 0 && spreader is null)
        {
            tally.Add(FaultKind.TimeDuplicate, sample.Line,
                "Rows carry the same time as the row above; all were kept, and no time passes between them.");
        }

        lastRawS = rawS;
        Emit(in sample);
    }

    // Decides about the rows held back, given the next one; returns whether that one is still to be judged.
    private bool Settle(double rawS, in Sample sample)
    {
        double onOldBaseS = rawS - lastRawS;
        double onHeldBaseS = rawS - heldRawS;
        if (heldAhead)
        {
            if (onHeldBaseS < 0 && onOldBaseS >= 0)
            {
                Drop();
            }
            else
            {
                Release();
            }

            return true;
        }

        if (onHeldBaseS < 0)
        {
            if (heldCount == 1)
            {
                Drop();
            }
            else
            {
                Release();
            }

            return true;
        }

        if (onOldBaseS >= 0 && Math.Abs(onOldBaseS - medianS) < Math.Abs(onHeldBaseS - medianS))
        {
            Drop();
            return true;
        }

        Hold(rawS, sample);
        if (heldCount == RowsThatConfirm)
        {
            Release();
        }

        return false;
    }

    private void Hold(double rawS, in Sample sample)
    {
        held ??= new Sample[RowsThatConfirm];
        held[heldCount++] = sample;
        heldRawS = rawS;
    }

    private void Drop()
    {
        for (int i = 0; i < heldCount; i++)
        {
            tally.Add(FaultKind.TimeBackwards, held![i].Line,
                "Rows whose time stands out of order among their neighbours; they were left out.");
        }

        Dropped += heldCount;
        heldCount = 0;
    }

    private void Release()
    {
        if (!heldAhead)
        {
            double lastTimeS = lastRawS + OffsetS;
            double backS = lastTimeS - held![0].TimeS;
            tally.Add(FaultKind.ClockStep, held[0].Line, backS, Describe);
            double shiftS = backS + medianS;
            OffsetS += shiftS;
            for (int i = 0; i < heldCount; i++)
            {
                held[i] = held[i] with { TimeS = held[i].TimeS + shiftS, AfterClockStep = i == 0 };
            }
        }

        int count = heldCount;
        heldCount = 0;
        double previousS = double.NaN;
        for (int i = 0; i < count; i++)
        {
            if (held![i].TimeS == previousS && spreader is null)
            {
                tally.Add(FaultKind.TimeDuplicate, held[i].Line,
                    "Rows carry the same time as the row above; all were kept, and no time passes between them.");
            }

            previousS = held[i].TimeS;
            Emit(in held[i]);
        }

        lastRawS = heldRawS;
    }

    private void Emit(in Sample sample)
    {
        Passed++;
        if (spreader is null)
        {
            sink.Add(in sample);
        }
        else
        {
            spreader.Add(in sample, ref sink, tally);
        }
    }

    private static string Describe(double backS)
    {
        string by = backS.ToString("0.###", CultureInfo.InvariantCulture);
        string hint = Math.Abs(backS - 3600) < 120
            ? " (an hour: it looks like the end of summer time, which naming the log's time zone resolves)"
            : "";
        return $"The clock was set back by {by} s{hint}; later times were shifted so that time goes on by the median interval.";
    }
}
