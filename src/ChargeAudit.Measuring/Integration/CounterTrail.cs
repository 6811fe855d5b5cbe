namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Follows a counter while a log is read. A reading waits until so many readings have risen on both sides of it that nothing further away
/// can change the judgement; then it is judged. The readings at the start of a piece wait for the piece before. So every cut gives what the
/// uncut log gives. Mutable.
/// </summary>
internal sealed class CounterTrail(double mostW)
{
    /// <summary>Readings that wait at once; what falls again and again over more readings than these is no counter.</summary>
    public const int MostWaiting = 2048;

    private readonly List<CounterReading> _head = [];
    private CounterFold _fold = new();
    private CounterReading[] _waiting = new CounterReading[4 * CounterJudge.LookAhead];
    private int _from;
    private int _count;
    private long _rising;
    private double _before = double.NegativeInfinity;
    private bool _settled;

    /// <summary>Whether the readings fall so often that they are not a counter's.</summary>
    public bool IsUseless { get; private set; }

    /// <summary>Takes the next reading.</summary>
    public void Add(in CounterReading row)
    {
        if (IsUseless)
        {
            return;
        }

        _rising = row.ReadingJ >= _before ? _rising + 1 : 1;
        _before = row.ReadingJ;
        Push(in row);
        if (_rising >= 2 * CounterJudge.LookAhead)
        {
            Settle(_count - CounterJudge.LookAhead);
        }
        else if (_count > MostWaiting)
        {
            GiveUp();
        }
    }

    /// <summary>Adds the trail of the piece that follows, which is left as it is.</summary>
    /// <param name="b">The trail.</param>
    /// <param name="afterGap">Whether a gap lies before its first reading.</param>
    public void Join(CounterTrail b, bool afterGap)
    {
        if (b.IsUseless)
        {
            GiveUp();
        }

        CounterReading[] rows = b._settled ? [.. b._head] : b.Waiting();
        if (rows.Length > 0)
        {
            rows[0] = rows[0] with { AfterGap = afterGap };
        }

        foreach (var row in rows)
        {
            Add(in row);
        }

        if (!b._settled || IsUseless)
        {
            return;
        }

        // The last of these readings has as many rising ones after it as are needed; they stand in the piece, judged.
        for (int ahead = 1; ahead <= CounterJudge.LookAhead; ahead++)
        {
            if (++_rising >= 2 * CounterJudge.LookAhead)
            {
                Settle(_count - (CounterJudge.LookAhead - ahead));
            }
        }

        _fold.Join(b._fold);
        foreach (var row in b.Waiting())
        {
            Push(in row);
        }

        (_rising, _before) = (b._rising, b._before);
    }

    /// <summary>A copy that shares nothing with this one.</summary>
    public CounterTrail Clone()
    {
        var copy = new CounterTrail(mostW)
        {
            _fold = _fold.Clone(),
            _waiting = [.. _waiting],
            _from = _from,
            _count = _count,
            _rising = _rising,
            _before = _before,
            _settled = _settled,
            IsUseless = IsUseless,
        };
        copy._head.AddRange(_head);
        return copy;
    }

    /// <summary>All that it holds.</summary>
    public TrailState State() => new()
    {
        IsUseless = IsUseless,
        Settled = _settled,
        Rising = _rising,
        Before = _before,
        Head = [.. _head],
        Waiting = Waiting(),
        Fold = _fold.State(),
    };

    /// <summary>The trail that such a state was taken of.</summary>
    public static CounterTrail Of(TrailState state, double mostW)
    {
        var trail = new CounterTrail(mostW)
        {
            IsUseless = state.IsUseless,
            _settled = state.Settled,
            _rising = state.Rising,
            _before = state.Before,
            _fold = CounterFold.Of(state.Fold),
        };
        trail._head.AddRange(state.Head);
        foreach (var row in state.Waiting)
        {
            trail.Push(in row);
        }

        return trail;
    }

    /// <summary>What the whole log shows; null where the readings are not a counter's.</summary>
    public CounterFold? Finish()
    {
        if (IsUseless)
        {
            return null;
        }

        var whole = new CounterFold();
        if (_settled)
        {
            Judge(whole, [.. _head], startsLog: true, endsLog: false, from: 0);
            whole.Join(_fold);
            Judge(whole, [whole.Last, .. Waiting()], startsLog: false, endsLog: true, from: 1);
        }
        else
        {
            Judge(whole, Waiting(), startsLog: true, endsLog: true, from: 0);
        }

        return whole;
    }

    // The first readings up to the one that is settled, which is good.
    private void Settle(int count)
    {
        if (count == 1 && _settled && _waiting[_from].ReadingJ >= _fold.Last.ReadingJ)
        {
            _fold.Add(in _waiting[_from], CounterVerdict.Good);
        }
        else if (_settled && count > 0)
        {
            Judge(_fold, [_fold.Last, .. Waiting().AsSpan(0, count)], startsLog: false, endsLog: false, from: 1);
        }
        else if (count > 0)
        {
            _settled = true;
            _head.AddRange(Waiting().AsSpan(0, count));
            _fold.Add(_head[^1], CounterVerdict.Good);
        }

        _from = (_from + count) & (_waiting.Length - 1);
        _count -= count;
    }

    private void Judge(CounterFold fold, CounterReading[] rows, bool startsLog, bool endsLog, int from)
    {
        var verdicts = CounterJudge.Judge(rows, startsLog, endsLog, mostW);
        for (int i = from; i < rows.Length; i++)
        {
            fold.Add(in rows[i], verdicts[i]);
        }
    }

    private void Push(in CounterReading row)
    {
        if (_count == _waiting.Length)
        {
            var all = Waiting();
            _waiting = new CounterReading[2 * all.Length];
            all.CopyTo(_waiting, 0);
            _from = 0;
        }

        _waiting[(_from + _count) & (_waiting.Length - 1)] = row;
        _count++;
    }

    private CounterReading[] Waiting()
    {
        var rows = new CounterReading[_count];
        for (int i = 0; i < _count; i++)
        {
            rows[i] = _waiting[(_from + i) & (_waiting.Length - 1)];
        }

        return rows;
    }

    private void GiveUp()
    {
        IsUseless = true;
        _head.Clear();
        _count = 0;
        _fold = new CounterFold();
    }
}
