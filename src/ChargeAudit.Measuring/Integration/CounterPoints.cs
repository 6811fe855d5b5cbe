namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Good readings of a counter in bounded memory. Where they become too many, only the last in each cell of a time grid is kept, whose cells
/// are a power of two of a second wide; so what is kept does not depend on where the log was cut. Readings at which the counter fell are
/// always kept.
/// </summary>
internal sealed class CounterPoints
{
    /// <summary>Greatest number of readings kept, but for those at falls.</summary>
    public const int Most = 1 << 16;

    private const int NotThinned = int.MinValue;
    private const int FinestExponent = -10;
    private readonly List<CounterPoint> _kept = [];
    private int _exponent = NotThinned;
    private bool _lastIsPinned;

    /// <summary>What is kept, in order of time.</summary>
    public IReadOnlyList<CounterPoint> Kept => _kept;

    /// <summary>Cells of the grid are two to this power of a second wide; the least number where nothing was thinned out.</summary>
    public int Exponent => _exponent;

    /// <summary>Whether the last reading is kept for good.</summary>
    public bool LastIsPinned => _lastIsPinned;

    /// <summary>The readings that such a state was taken of.</summary>
    public static CounterPoints Of(FoldState state)
    {
        var points = new CounterPoints { _exponent = state.Exponent, _lastIsPinned = state.LastIsPinned };
        points._kept.AddRange(state.Points);
        return points;
    }

    /// <summary>Takes the next reading.</summary>
    public void Add(in CounterPoint point)
    {
        Put(point);
        if (_kept.Count > Most)
        {
            ThinToFit();
        }
    }

    /// <summary>Keeps the last reading for good.</summary>
    public void PinLast() => _lastIsPinned = true;

    /// <summary>Adds the readings of the piece that follows, which begins with the last of this one.</summary>
    public void Join(CounterPoints b)
    {
        if (b._exponent > _exponent)
        {
            Thin(b._exponent);
        }

        bool same = _kept.Count > 0 && b._kept.Count > 0 && _kept[^1].TimeS == b._kept[0].TimeS
            && _kept[^1].ReadingJ == b._kept[0].ReadingJ;
        for (int i = same ? 1 : 0; i < b._kept.Count; i++)
        {
            if (b._kept[i].Step != CounterVerdict.Good)
            {
                PinLast();
            }

            Add(b._kept[i]);
        }

        _lastIsPinned = b._kept.Count > 1 || !same ? b._lastIsPinned : _lastIsPinned;
    }

    private void Put(in CounterPoint point)
    {
        if (_kept.Count > 0 && Replaces(_kept[^1], point, _lastIsPinned))
        {
            _kept[^1] = point with { AfterGap = point.AfterGap || _kept[^1].AfterGap };
        }
        else
        {
            _kept.Add(point);
        }

        _lastIsPinned = false;
    }

    private bool Replaces(in CounterPoint last, in CounterPoint point, bool pinned) =>
        _exponent != NotThinned && !pinned && last.Step == CounterVerdict.Good && Cell(last.TimeS) == Cell(point.TimeS);

    private double Cell(double timeS) => Math.Floor(Math.ScaleB(timeS, -_exponent));

    // Falls alone may be too many: a counter that falls so often is refused elsewhere.
    private void ThinToFit()
    {
        while (_kept.Count > Most && _exponent < 40)
        {
            Thin(_exponent == NotThinned ? FinestExponent : _exponent + 1);
        }
    }

    private void Thin(int exponent)
    {
        _exponent = exponent;
        var all = _kept.ToArray();
        bool lastIsPinned = _lastIsPinned;
        _kept.Clear();
        _lastIsPinned = false;
        for (int i = 0; i < all.Length; i++)
        {
            if (all[i].Step != CounterVerdict.Good)
            {
                PinLast();
            }

            Put(all[i]);
        }

        _lastIsPinned = lastIsPinned;
    }
}
