namespace ChargeAudit.Logs.Reading;

/// <summary>Shifts a file's times to the first file's origin and leaves out rows that lie before the end of the file before.</summary>
internal struct JoiningSink<TSink>(TSink inner, double startS, double endBeforeS, double medianS, bool first) : ISampleSink
    where TSink : struct, ISampleSink
{
    private readonly bool _timed = !double.IsNaN(startS);
    private readonly double _shiftS = first ? 0 : double.IsNaN(startS) ? endBeforeS + medianS : startS;
    private readonly double _endBefore = endBeforeS;
    private bool _begun;

    /// <summary>Where samples go on to.</summary>
    public TSink Inner = inner;

    /// <summary>Whether the file's place in time is known.</summary>
    public readonly bool Timed => _timed;

    /// <summary>Time of the last sample passed on. [s]</summary>
    public double LastTimeS { get; private set; } = endBeforeS;

    /// <summary>Rows left out.</summary>
    public long Overlapping { get; private set; }

    public long FirstOverlapLine { get; private set; }

    public long LastOverlapLine { get; private set; }

    /// <summary>Time between the end of the file before and the first row passed on. [s]</summary>
    public double HoleS { get; private set; }

    /// <summary>Line of the first row passed on.</summary>
    public long FirstLine { get; private set; }

    public void Add(in Sample sample)
    {
        double timeS = sample.TimeS + _shiftS;
        if (!first && timeS <= _endBefore)
        {
            FirstOverlapLine = Overlapping == 0 ? sample.Line : FirstOverlapLine;
            LastOverlapLine = sample.Line;
            Overlapping++;
            return;
        }

        if (!_begun)
        {
            _begun = true;
            HoleS = first ? 0 : timeS - _endBefore;
            FirstLine = sample.Line;
        }

        LastTimeS = timeS;
        Inner.Add(_shiftS == 0 ? sample : sample with { TimeS = timeS });
    }
}
