using System.Runtime.CompilerServices;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Power over time in bounded memory: least, greatest and integral of power in each cell of a time grid whose cells are a power of two of
/// a second wide and start at multiples of that width. When the cells become too many, neighbours are joined and the width doubles; so the
/// envelopes of two pieces of a log can be joined, and cell borders never depend on where the log was cut. Times count from the log's first
/// sample. Mutable while a log is read; not safe for concurrent writers.
/// </summary>
public sealed partial class PowerEnvelope
{
    /// <summary>Greatest number of cells kept.</summary>
    public const int MaxBuckets = 1 << 16;

    // A piece of a fast log fills a few hundred.
    private const int FewestBuckets = 128;

    // The number of cells expected is mostly right to within an eighth.
    private const int RoomEighths = 9;

    // Power is known between rows, too, where values hold, so few rows need not mean few cells.
    private const double CellsPerHeldInterval = 32;

    private EnvelopeBucket[] _buckets = [];
    private int _roomAtFirst = FewestBuckets;
    private int _exponent;
    private double _perSecond;
    private double _widthS;
    private long _first;

    // First cell of the whole log where this is the envelope of a later piece: the cells then widen where they would for the whole.
    private long _anchor = long.MaxValue;

    // The cell that the last row fell into; most rows fall into the same one again.
    private int _cell;
    private double _cellFromS = double.NaN;
    private double _cellToS = double.NaN;

    /// <summary>An empty envelope.</summary>
    /// <param name="exponent">Cells are 2 to this power of a second wide at first.</param>
    public PowerEnvelope(int exponent)
    {
        _exponent = exponent;
        _perSecond = Math.ScaleB(1, -exponent);
        _widthS = Math.ScaleB(1, exponent);
    }

    /// <summary>Width of a cell. [s]</summary>
    public double BucketWidthS => _widthS;

    /// <summary>Number of cells from the first to the last that holds anything.</summary>
    public int Count { get; private set; }

    /// <summary>Start of the first cell. [s]</summary>
    public double OriginS => _first * _widthS;

    /// <summary>The cell at a position, counted from 0.</summary>
    public ref readonly EnvelopeBucket this[int index] => ref Cells.AsSpan(0, Count)[index];

    /// <summary>Start of a cell. [s]</summary>
    public double StartS(int index) => (_first + index) * _widthS;

    /// <summary>Where the log's cover starts within its first cell. [s]</summary>
    public double CoveredFromS => Count == 0 ? double.NaN : Count == 1
        ? OriginS
        : StartS(1) - Math.Min(Cells[0].CoveredS.Value, _widthS);

    /// <summary>Where it ends within the last. [s]</summary>
    public double CoveredToS => Count == 0 ? double.NaN : StartS(Count - 1) + Math.Min(Cells[Count - 1].CoveredS.Value, _widthS);

    /// <summary>The cell that holds a time; below zero or beyond the last where none does.</summary>
    public int IndexAt(double timeS) => (int)Math.Clamp(IndexOf(timeS) - _first, -1, Count);

    /// <summary>Mean power of the cell that holds a time; NaN where none does. [W]</summary>
    public double MeanAtW(double timeS) => IndexAt(timeS) is var i && i >= 0 && i < Count ? Cells[i].MeanPowerW : double.NaN;

    /// <summary>
    /// An envelope whose first cells are as wide as, or up to half as wide as, the usual interval between rows; or wider, where so many
    /// rows are to come that the cells would be joined to wider ones anyhow.
    /// </summary>
    /// <param name="medianIntervalS">Usual interval between rows; half of all intervals are at least as long. [s]</param>
    /// <param name="rowsAbout">About how many rows will come, rather too few than too many; 0 where that is not known.</param>
    /// <param name="holdsValues">Whether values hold from row to row.</param>
    public static PowerEnvelope ForInterval(double medianIntervalS, long rowsAbout = 0, bool holdsValues = false)
    {
        double interval = (medianIntervalS > 0 ? medianIntervalS : 1) / (holdsValues ? CellsPerHeldInterval : 1);

        // The rows take at least half this time, and as much again is left for lines of other lengths.
        double sureWidthS = 0.25 * rowsAbout * interval / MaxBuckets;
        var envelope = new PowerEnvelope(Math.Clamp(Math.ILogB(Math.Max(interval, sureWidthS)), -20, 20)) { HoldsValues = holdsValues };
        envelope._roomAtFirst = (int)Math.Clamp(
            rowsAbout * interval / envelope.BucketWidthS * RoomEighths / 8, FewestBuckets, MaxBuckets);
        return envelope;
    }

    /// <summary>An empty envelope like this one for a log whose first cell begins at time zero, whether it is used or not: how wide its
    /// cells become depends only on how far the log has come.</summary>
    internal PowerEnvelope FromZero() => new(_exponent) { HoldsValues = HoldsValues, _roomAtFirst = _roomAtFirst, _anchor = 0 };

    /// <summary>An empty envelope for a later piece of the log that this one began: its cells widen where they would for the whole
    /// log.</summary>
    /// <param name="spent">An envelope that is no longer needed: its memory is used again; null where there is none.</param>
    public PowerEnvelope ForLaterPiece(PowerEnvelope? spent = null) => new(_exponent)
    {
        HoldsValues = HoldsValues,
        _anchor = Count > 0 ? Math.Min(_first, _anchor) : _anchor,
        _buckets = spent?._buckets ?? [],

        // Pieces are alike in length: the first later ones are begun when this one holds one piece.
        _roomAtFirst = Math.Clamp(Count * RoomEighths / 8, FewestBuckets, MaxBuckets),
    };

    /// <summary>Whether values hold from row to row, so that every cell is known whether a row falls into it or not.</summary>
    public bool HoldsValues { get; init; }

    /// <summary>End of that cell. [s]</summary>
    internal double CellToS => _cellToS;

    /// <summary>The cell that was used last.</summary>
    internal ref EnvelopeBucket CellInUse => ref _buckets[_cell];

    /// <summary>Whether a reading falls into the cell that was used last.</summary>
    internal bool IsInUse(double timeS) => timeS >= _cellFromS && timeS < _cellToS;

    /// <summary>Whether an interval lies in the cell that was used last as a whole.</summary>
    internal bool IsInUse(in PowerInterval interval) => interval.FromS >= _cellFromS && interval.ToS < _cellToS
        && interval.FromS < interval.ToS;

    /// <summary>Takes a reading for the extremes.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void AddReading(double timeS, double powerW)
    {
        if (IsInUse(timeS))
        {
            _buckets[_cell].AddReading(powerW);
            return;
        }

        BucketAt(timeS).AddReading(powerW);
    }

    /// <summary>Takes an interval over which power, voltage and current run in straight lines; it is split at the cells' borders.</summary>
    /// <param name="interval">The interval.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void AddInterval(in PowerInterval interval)
    {
        if (IsInUse(in interval))
        {
            _buckets[_cell].AddWhole(in interval);
            return;
        }

        AddSplit(in interval);
    }

    private void AddSplit(in PowerInterval interval)
    {
        double from = interval.FromS;
        BucketAt(from);
        BucketAt(interval.ToS);
        while (from < interval.ToS)
        {
            long index = IndexOf(from);
            double to = Math.Min(interval.ToS, (index + 1) * _widthS);
            _buckets[checked((int)(index - _first))].Add(in interval, from, to);
            from = to;
        }
    }

    /// <summary>Changes energy and charge over an interval that was taken already; the change is split at the cells' borders.</summary>
    /// <param name="change">The interval with the change of power and current.</param>
    internal void Correct(in PowerInterval change)
    {
        double from = change.FromS;
        while (from < change.ToS)
        {
            long index = IndexOf(from);
            double to = Math.Min(change.ToS, (index + 1) * _widthS);
            _buckets[checked((int)(index - _first))].Correct(in change, from, to);
            from = to;
        }
    }

    /// <summary>Adds the envelope of another piece, which is left as it is.</summary>
    public void Join(PowerEnvelope b)
    {
        if (b.Count == 0)
        {
            return;
        }

        var other = b._exponent < _exponent ? b.Clone() : b;
        while (_exponent < other._exponent)
        {
            Coarsen();
        }

        while (other._exponent < _exponent)
        {
            other.Coarsen();
        }

        Reach(other._first);
        Reach(other._first + other.Count - 1);
        if (other._exponent < _exponent)
        {
            other = ReferenceEquals(other, b) ? b.Clone() : other;
            while (other._exponent < _exponent)
            {
                other.Coarsen();
            }
        }

        var cells = other.Cells;
        for (int i = 0; i < other.Count; i++)
        {
            ref var bucket = ref _buckets[checked((int)(other._first + i - _first))];
            bucket = EnvelopeBucket.Join(bucket, cells[i]);
        }
    }

    /// <summary>A copy that shares nothing with this one.</summary>
    public PowerEnvelope Clone() => new(_exponent)
    {
        HoldsValues = HoldsValues,
        _first = _first,
        _anchor = _anchor,
        Count = Count,
        _buckets = Cells.AsSpan(0, Count).ToArray(),
    };

    /// <summary>All that it holds.</summary>
    internal EnvelopeState State() => new()
    {
        Exponent = _exponent,
        First = _first,
        Anchor = _anchor == long.MaxValue ? null : _anchor,
        Count = Count,
        HoldsValues = HoldsValues,
        Cells = Cells.AsSpan(0, Count).ToArray(),
    };

    /// <summary>The envelope that such a state was taken of.</summary>
    internal static PowerEnvelope Of(EnvelopeState state) => new(state.Exponent)
    {
        HoldsValues = state.HoldsValues,
        _first = state.First,
        _anchor = state.Anchor ?? long.MaxValue,
        Count = state.Count,
        _buckets = state.Cells,
    };

    /// <summary>A copy that has also what was summed for the cell in use.</summary>
    internal PowerEnvelope With(in RunSums run)
    {
        var copy = Clone();
        copy._buckets[_cell].Add(in run);
        return copy;
    }

    /// <summary>The same with cells twice as wide, as often as needed to have at most <paramref name="count"/>; a log that reaches back
    /// before time zero keeps at least two.</summary>
    public PowerEnvelope Reduced(int count)
    {
        // Time zero is a border between cells of any width, so cells on both sides of it (averages reach back before the first stamp) never
        // become one.
        count = Math.Max(count, _first < 0 && _first + Count > 0 ? 2 : 1);
        int doublings = 0;
        while (Count > 0 && ((_first + Count - 1) >> doublings) - (_first >> doublings) + 1 > count)
        {
            doublings++;
        }

        if (doublings == 0)
        {
            return Clone();
        }

        // Straight into the wider cells: a copy of all cells would take more time than the joining.
        long first = _first >> doublings;
        int wide = (int)(((_first + Count - 1) >> doublings) - first + 1);
        var reduced = new PowerEnvelope(_exponent + doublings)
        {
            HoldsValues = HoldsValues,
            _first = first,
            Count = wide,
            _buckets = new EnvelopeBucket[wide],
        };
        reduced._anchor = _anchor == long.MaxValue ? _anchor : _anchor >> doublings;
        reduced._buckets.AsSpan().Fill(EnvelopeBucket.Empty);
        var cells = Cells;
        for (int i = 0; i < Count; i++)
        {
            ref var cell = ref reduced._buckets[(int)(((_first + i) >> doublings) - first)];
            cell = EnvelopeBucket.Join(cell, cells[i]);
        }

        return reduced;
    }

    private long IndexOf(double timeS) => unchecked((long)Math.Floor(timeS * _perSecond));

    private ref EnvelopeBucket BucketAt(double timeS)
    {
        long offset = IndexOf(timeS) - _first;
        if (offset < 0 || offset >= Count)
        {
            Reach(IndexOf(timeS));
            offset = IndexOf(timeS) - _first;
        }

        _cell = (int)offset;
        _cellFromS = StartS(_cell);
        _cellToS = StartS(_cell + 1);
        return ref _buckets[offset];
    }

    private void Reach(long index)
    {
        _cellFromS = double.NaN;
        if (Count == 0)
        {
            _first = index;
        }

        int exponent = _exponent;
        long first = Math.Min(_first, index);
        long last = Math.Max(_first + Count - 1, index);
        while (last - Math.Min(first, _anchor) + 1 > MaxBuckets)
        {
            Coarsen();
            first = Math.Min(_first, index >> (_exponent - exponent));
            last = Math.Max(_first + Count - 1, index >> (_exponent - exponent));
        }

        int count = (int)(last - first + 1);
        if (count > _buckets.Length || first < _first)
        {
            // As many as are expected or twice as many at once, and only those in use are filled: memory that is not touched costs
            // nothing, and touching it for the first time costs most.
            int room = Math.Min(MaxBuckets, Math.Max(Math.Max(count, _roomAtFirst), 2 * _buckets.Length));
            var grown = GC.AllocateUninitializedArray<EnvelopeBucket>(room);
            _buckets.AsSpan(0, Count).CopyTo(grown.AsSpan((int)(_first - first)));
            grown.AsSpan(0, (int)(_first - first)).Fill(EnvelopeBucket.Empty);
            grown.AsSpan((int)(_first - first) + Count, count - Count - (int)(_first - first)).Fill(EnvelopeBucket.Empty);
            _buckets = grown;
        }
        else
        {
            _buckets.AsSpan(Count, count - Count).Fill(EnvelopeBucket.Empty);
        }

        _first = first;
        Count = count;
    }

    private void Coarsen()
    {
        _cellFromS = double.NaN;
        _anchor = _anchor == long.MaxValue ? _anchor : _anchor >> 1;
        long first = _first >> 1;
        int count = 0;

        // In place: a joined cell never lies after the ones it is made of.
        for (int i = 0; i < Count; i++)
        {
            int to = (int)(((_first + i) >> 1) - first);
            _buckets[to] = to < count ? EnvelopeBucket.Join(_buckets[to], _buckets[i]) : _buckets[i];
            count = to + 1;
        }

        _first = first;
        Count = count;
        _exponent++;
        _perSecond = Math.ScaleB(1, -_exponent);
        _widthS = Math.ScaleB(1, _exponent);
    }
}
