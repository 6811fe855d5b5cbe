using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>How far a counter advanced over a gap.</summary>
/// <param name="FromS">Time of the row before. [s]</param>
/// <param name="ToS">Time of the row after. [s]</param>
/// <param name="Line">Line of the row after.</param>
/// <param name="AdvanceJ">The advance. [J]</param>
internal readonly record struct GapAdvance(double FromS, double ToS, long Line, double AdvanceJ);

/// <summary>
/// What is kept of the judged readings of a counter, in bounded memory. Mutable; of two neighbouring pieces the second begins with the
/// reading that the first ends with.
/// </summary>
internal sealed class CounterFold(CounterPoints points)
{
    private readonly CounterPoints _points = points;
    private List<GapAdvance> _gaps = [];
    private bool _afterDropped;
    private bool _afterDroppedGap;

    public CounterFold()
        : this(new CounterPoints())
    {
    }

    /// <summary>Whether it holds a reading.</summary>
    public bool Seen { get; private set; }

    /// <summary>The first good reading.</summary>
    public CounterReading First { get; private set; }

    /// <summary>The last good reading.</summary>
    public CounterReading Last { get; private set; }

    /// <summary>Resets.</summary>
    public FaultTally Resets { get; private set; }

    /// <summary>Falls to another level that the counter went on from.</summary>
    public FaultTally Falls { get; private set; }

    /// <summary>Rises that are no advance; found in the whole log only.</summary>
    public FaultTally Leaps { get; private set; }

    /// <summary>Readings that were left out.</summary>
    public FaultTally Bad { get; private set; }

    /// <summary>Good readings, thinned out where there are many; the first of all may be missing.</summary>
    public IReadOnlyList<CounterPoint> Points => _points.Kept;

    /// <summary>Advances over gaps, the longest, in order of time.</summary>
    public IReadOnlyList<GapAdvance> Gaps => _gaps;

    /// <summary>Takes the next reading with what it was found to be.</summary>
    public void Add(in CounterReading row, CounterVerdict verdict)
    {
        if (verdict == CounterVerdict.Bad)
        {
            Bad = Bad.Plus(row.Line);
            _afterDropped = true;
            _afterDroppedGap |= row.AfterGap;
            return;
        }

        bool afterGap = row.AfterGap || _afterDroppedGap;
        if (!Seen)
        {
            (Seen, First) = (true, row);
        }
        else if (verdict == CounterVerdict.Reset)
        {
            Resets = Resets.Plus(row.Line);
            _points.PinLast();
        }
        else if (verdict == CounterVerdict.Fell)
        {
            (Falls, Leaps) = row.ReadingJ > Last.ReadingJ ? (Falls, Leaps.Plus(row.Line)) : (Falls.Plus(row.Line), Leaps);
            _points.PinLast();
        }
        else if (row.AfterGap && !_afterDropped)
        {
            _gaps.Add(new GapAdvance(Last.TimeS, row.TimeS, row.Line, row.ReadingJ - Last.ReadingJ));
            TrimGaps();
        }

        _points.Add(new CounterPoint(row.TimeS, row.ReadingJ, verdict, afterGap, row.Line));
        Last = row;
        _afterDropped = false;
        _afterDroppedGap = false;
    }

    /// <summary>Adds the fold of the piece that follows, whose first reading is the last of this one.</summary>
    public void Join(CounterFold b)
    {
        if (!b.Seen)
        {
            return;
        }

        if (!Seen)
        {
            (Seen, First) = (true, b.First);
        }

        Last = b.Last;
        Resets = FaultTally.Join(Resets, b.Resets);
        Falls = FaultTally.Join(Falls, b.Falls);
        Bad = FaultTally.Join(Bad, b.Bad);
        _points.Join(b._points);
        _gaps.AddRange(b._gaps);
        TrimGaps();
        _afterDropped = b._afterDropped;
        _afterDroppedGap = b._afterDroppedGap;
    }

    /// <summary>The fold without the readings at its ends that only the whole of it shows to be bad; the same one where none is.</summary>
    /// <param name="stepJ">The counter's step; NaN where it cannot be told. [J]</param>
    public CounterFold WithoutWildEnds(double stepJ)
    {
        var all = All();
        var (atStart, atEnd) = WildEnds.Of(all, stepJ);
        if (atStart + atEnd == 0)
        {
            return this;
        }

        var fold = With(all, [.. all.Select((p, i) => i < atStart || i >= all.Count - atEnd ? CounterVerdict.Bad : p.Step)]);

        // The points may be thinned out; what was counted stays.
        (fold.Resets, fold.Falls) = (Resets, Falls);
        return fold;
    }

    /// <summary>The fold without leaps, and without what lies off the track between a leap and a fall; the same one where there is
    /// none.</summary>
    /// <param name="stepJ">The counter's step; NaN where it cannot be told. [J]</param>
    public CounterFold WithoutLeaps(double stepJ)
    {
        var all = All();
        return CounterLeaps.Of(all, stepJ) is { } verdicts ? With(all, verdicts) : this;
    }

    /// <summary>The fold of what the counter would have shown with its coarsest step.</summary>
    public CounterFold Coarser(CoarserDigits digits)
    {
        var coarser = new CounterFold
        {
            Seen = Seen,
            First = First with { ReadingJ = digits.Shown(First.ReadingJ) },
            Last = Last with { ReadingJ = digits.Shown(Last.ReadingJ) },
            Resets = Resets,
            Falls = Falls,
            Leaps = Leaps,
            Bad = Bad,
            _gaps = _gaps,
        };
        foreach (var point in Points)
        {
            if (point.Step != CounterVerdict.Good)
            {
                coarser._points.PinLast();
            }

            coarser._points.Add(point with { ReadingJ = digits.Shown(point.ReadingJ) });
        }

        return coarser;
    }

    /// <summary>A copy that shares nothing with this one.</summary>
    public CounterFold Clone()
    {
        var copy = new CounterFold();
        copy.Join(this);
        return copy;
    }

    /// <summary>All that it holds.</summary>
    public FoldState State() => new()
    {
        Seen = Seen,
        First = First,
        Last = Last,
        Resets = Resets,
        Falls = Falls,
        Bad = Bad,
        Gaps = [.. _gaps],
        AfterDropped = _afterDropped,
        AfterDroppedGap = _afterDroppedGap,
        Exponent = _points.Exponent,
        LastIsPinned = _points.LastIsPinned,
        Count = Points.Count,
        Points = [.. Points],
    };

    /// <summary>The fold that such a state was taken of.</summary>
    public static CounterFold Of(FoldState state) => new(CounterPoints.Of(state))
    {
        Seen = state.Seen,
        First = state.First,
        Last = state.Last,
        Resets = state.Resets,
        Falls = state.Falls,
        Bad = state.Bad,
        _gaps = [.. state.Gaps],
        _afterDropped = state.AfterDropped,
        _afterDroppedGap = state.AfterDroppedGap,
    };

    // Where readings were thinned out the first of all may be gone.
    private List<CounterPoint> All()
    {
        List<CounterPoint> all = [.. Points];
        if (all.Count > 0 && all[0].TimeS > First.TimeS)
        {
            all.Insert(0, new CounterPoint(First.TimeS, First.ReadingJ, CounterVerdict.Good, First.AfterGap, First.Line));
        }

        return all;
    }

    private CounterFold With(List<CounterPoint> all, CounterVerdict[] verdicts)
    {
        var with = new CounterFold { Bad = Bad };
        for (int i = 0; i < all.Count; i++)
        {
            with.Add(new CounterReading(all[i].TimeS, all[i].ReadingJ, all[i].Line, all[i].AfterGap), verdicts[i]);
        }

        with._gaps = [.. _gaps.Where(g => g.FromS >= with.First.TimeS && g.ToS <= with.Last.TimeS)];
        return with;
    }

    private void TrimGaps()
    {
        if (_gaps.Count > GapTally.Kept)
        {
            _gaps = [.. _gaps.OrderByDescending(g => g.ToS - g.FromS).ThenBy(g => g.FromS).Take(GapTally.Kept).OrderBy(g => g.FromS)];
        }
    }
}
