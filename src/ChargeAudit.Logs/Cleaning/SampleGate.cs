using System.Globalization;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;
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
    // This many rows must go on from the new time before the clock counts as set: fewer are rows out of order, or a block written twice.
    private const int RowsThatConfirm = 32;

    private readonly ref TSink _sink = ref sink;
    private readonly FaultCounts _tally = tally;
    private readonly double _medianS = layout.MedianIntervalS;
    private readonly double _jumpS = layout.PlainStepS;
    private readonly StampSpreader? _spreader = layout.Plan!.Time.RowsPerStamp > 0 ? new StampSpreader(layout.Plan.Time) : null;
    private readonly RepeatedLines? _repeated = repeatedLines.Count > 0 ? new RepeatedLines(repeatedLines, tally) : null;
    private Sample[]? _held;
    private int _heldCount;
    private double _lastRawS;
    private double _heldRawS;
    private bool _started;
    private bool _heldAhead;

    /// <summary>What turns a raw time into a sample's time. [s]</summary>
    public double OffsetS { get; private set; }

    /// <summary>The same at the first row. [s]</summary>
    public double FirstOffsetS { get; private set; }

    /// <summary>Time of the last row let through, as read. [s]</summary>
    public readonly double LastRawS => _lastRawS;

    /// <summary>Samples let through.</summary>
    public long Passed { get; private set; }

    /// <summary>Rows dropped because their time is out of order.</summary>
    public long Dropped { get; private set; }

    /// <summary>Rows left out because they had been written before.</summary>
    public readonly long Repeated => _repeated?.Count ?? 0;

    /// <summary>Takes the next row.</summary>
    /// <param name="rawS">Its time as read. [s]</param>
    /// <param name="sample">The row; its time is <paramref name="rawS"/> plus <see cref="OffsetS"/>.</param>
    public void Push(double rawS, in Sample sample)
    {
        if (_repeated is not null && _repeated.Takes(sample.Line))
        {
            return;
        }

        double stepS = rawS - _lastRawS;
        if (stepS > 0 && stepS <= _jumpS && _heldCount == 0 && _started)
        {
            _lastRawS = rawS;
            Emit(in sample);
            return;
        }

        PushUnusual(rawS, sample);
    }

    /// <summary>Where samples go.</summary>
    public readonly ref TSink Sink => ref _sink;

    /// <summary>Longest step from row to row that needs no judgement. [s]</summary>
    public readonly double PlainStepS => _jumpS;

    /// <summary>Whether rows in plain steps would go straight to the sink, so that a piece of them may be summed elsewhere.</summary>
    public readonly bool IsPlain => _started && _heldCount == 0 && _spreader is null;

    /// <summary>Counts a piece of rows in plain steps that reached the sink another way.</summary>
    /// <param name="firstRawS">Time of its first row as read. [s]</param>
    /// <param name="lastRawS">Time of its last row as read. [s]</param>
    /// <param name="rows">How many there are.</param>
    /// <returns>Whether the piece may be taken; otherwise its rows have to be pushed.</returns>
    public bool TryPass(double firstRawS, double lastRawS, long rows)
    {
        double stepS = firstRawS - _lastRawS;
        if (!(IsPlain && stepS > 0 && stepS <= _jumpS))
        {
            return false;
        }

        _lastRawS = lastRawS;
        Passed += rows;
        return true;
    }

    /// <summary>Begins where a log was cut after rows in plain steps.</summary>
    /// <param name="offsetS">What turns a raw time into a sample's time there. [s]</param>
    /// <param name="lastRawS">Time of the row before, as read. [s]</param>
    public void GoOnFrom(double offsetS, double lastRawS)
    {
        _started = true;
        OffsetS = FirstOffsetS = offsetS;
        _lastRawS = lastRawS;
    }

    /// <summary>Settles what is still held back at the end of the log.</summary>
    public void Finish()
    {
        if (_heldCount > 1 || (_heldCount == 1 && _heldAhead))
        {
            Release();
        }
        else if (_heldCount == 1)
        {
            Drop();
        }

        _spreader?.Finish(ref _sink, _tally);
    }

    private void PushUnusual(double rawS, Sample sample)
    {
        if (!_started)
        {
            _started = true;
            OffsetS = FirstOffsetS = -rawS;
            _lastRawS = rawS;
            Emit(sample with { TimeS = 0 });
            return;
        }

        if (_heldCount > 0 && !Settle(rawS, sample))
        {
            return;
        }

        // What was held is settled: the row is judged against the last one let through.
        double stepS = rawS - _lastRawS;
        sample = sample with { TimeS = rawS + OffsetS };
        if (stepS < 0 || stepS > _jumpS)
        {
            _heldAhead = stepS > 0;
            Hold(rawS, sample);
            return;
        }

        if (stepS == 0 && _spreader is null)
        {
            _tally.Add(FaultKind.TimeDuplicate, sample.Line,
                "Rows carry the same time as the row above; all were kept, and no time passes between them.");
        }

        _lastRawS = rawS;
        Emit(in sample);
    }

    // Decides about the rows held back, given the next one; returns whether that one is still to be judged.
    private bool Settle(double rawS, in Sample sample)
    {
        double onOldBaseS = rawS - _lastRawS;
        double onHeldBaseS = rawS - _heldRawS;
        if (_heldAhead)
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
            if (_heldCount == 1)
            {
                Drop();
            }
            else
            {
                Release();
            }

            return true;
        }

        if (onOldBaseS >= 0 && Math.Abs(onOldBaseS - _medianS) < Math.Abs(onHeldBaseS - _medianS))
        {
            Drop();
            return true;
        }

        Hold(rawS, sample);
        if (_heldCount == RowsThatConfirm)
        {
            Release();
        }

        return false;
    }

    private void Hold(double rawS, in Sample sample)
    {
        _held ??= new Sample[RowsThatConfirm];
        _held[_heldCount++] = sample;
        _heldRawS = rawS;
    }

    private void Drop()
    {
        for (int i = 0; i < _heldCount; i++)
        {
            _tally.Add(FaultKind.TimeBackwards, _held![i].Line,
                "Rows whose time stands out of order among their neighbours; they were left out.");
        }

        Dropped += _heldCount;
        _heldCount = 0;
    }

    private void Release()
    {
        if (!_heldAhead)
        {
            double lastTimeS = _lastRawS + OffsetS;
            double backS = lastTimeS - _held![0].TimeS;
            _tally.Add(FaultKind.ClockStep, _held[0].Line, backS, Describe);
            double shiftS = backS + _medianS;
            OffsetS += shiftS;
            for (int i = 0; i < _heldCount; i++)
            {
                _held[i] = _held[i] with { TimeS = _held[i].TimeS + shiftS, AfterClockStep = i == 0 };
            }
        }

        int count = _heldCount;
        _heldCount = 0;
        double previousS = double.NaN;
        for (int i = 0; i < count; i++)
        {
            if (_held![i].TimeS == previousS && _spreader is null)
            {
                _tally.Add(FaultKind.TimeDuplicate, _held[i].Line,
                    "Rows carry the same time as the row above; all were kept, and no time passes between them.");
            }

            previousS = _held[i].TimeS;
            Emit(in _held[i]);
        }

        _lastRawS = _heldRawS;
    }

    private void Emit(in Sample sample)
    {
        Passed++;
        if (_spreader is null)
        {
            _sink.Add(in sample);
        }
        else
        {
            _spreader.Add(in sample, ref _sink, _tally);
        }
    }

    private static string Describe(double backS)
    {
        string by = WrittenMarks.Number(backS.ToString("0.###", CultureInfo.InvariantCulture));
        string hint = Math.Abs(backS - 3600) < 120
            ? " (an hour: it looks like the end of summer time, which naming the log's time zone resolves)"
            : "";
        return $"The clock was set back by {by} s{hint}; later times were shifted so that time goes on by the median interval.";
    }
}
