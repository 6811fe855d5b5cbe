namespace ChargeAudit.Analysis.Integration;

/// <summary>
/// Power over time in bounded memory: least, greatest and integral of power in each cell of a time grid whose cells are a power of two of
/// a second wide and start at multiples of that width. When the cells become too many, neighbours are joined and the width doubles; so the
/// envelopes of two pieces of a log can be joined, and cell borders never depend on where the log was cut. Times count from the log's first sample.
/// Mutable while a log is read; not safe for concurrent writers.
/// </summary>
public sealed class PowerEnvelope
{
    /// <summary>Greatest number of cells kept.</summary>
    public const int MaxBuckets = 1 << 16;

    private EnvelopeBucket[] _buckets = [];
    private int _exponent;
    private double _perSecond;
    private long _first;

    /// <summary>An empty envelope.</summary>
    /// <param name="exponent">Cells are 2 to this power of a second wide at first.</param>
    public PowerEnvelope(int exponent)
    {
        _exponent = exponent;
        _perSecond = Math.ScaleB(1, -exponent);
    }

    /// <summary>Width of a cell. [s]</summary>
    public double BucketWidthS => Math.ScaleB(1, _exponent);

    /// <summary>Number of cells from the first to the last that holds anything.</summary>
    public int Count { get; private set; }

    /// <summary>Start of the first cell. [s]</summary>
    public double OriginS => Math.ScaleB(_first, _exponent);

    /// <summary>The cell at a position, counted from 0.</summary>
    public ref readonly EnvelopeBucket this[int index] => ref _buckets.AsSpan(0, Count)[index];

    /// <summary>Start of a cell. [s]</summary>
    public double StartS(int index) => Math.ScaleB(_first + index, _exponent);

    /// <summary>An envelope whose first cells are as wide as, or up to half as wide as, the usual interval between rows.</summary>
    public static PowerEnvelope ForInterval(double medianIntervalS) =>
        new(Math.Clamp(Math.ILogB(medianIntervalS > 0 ? medianIntervalS : 1), -20, 20));

    /// <summary>Takes a reading for the extremes.</summary>
    public void AddReading(double timeS, double powerW)
    {
        ref var bucket = ref BucketAt(timeS);
        bucket = bucket with
        {
            Readings = bucket.Readings + 1,
            MinPowerW = Math.Min(bucket.MinPowerW, powerW),
            MaxPowerW = Math.Max(bucket.MaxPowerW, powerW),
        };
    }

    /// <summary>Takes an interval over which power, voltage and current run in straight lines; it is split at the cells' borders.</summary>
    /// <param name="interval">The interval.</param>
    public void AddInterval(in PowerInterval interval)
    {
        double from = interval.FromS;
        BucketAt(from);
        BucketAt(interval.ToS);
        while (from < interval.ToS)
        {
            long index = IndexOf(from);
            double to = Math.Min(interval.ToS, Math.ScaleB(index + 1, _exponent));
            ref var bucket = ref _buckets[checked((int)(index - _first))];
            bucket = interval.AddTo(bucket, from, to);
            from = to;
        }
    }

    /// <summary>Energy between two times; half a cell counts half its energy. [J]</summary>
    public double EnergyBetweenJ(double fromS, double toS) => Integral(fromS, toS, static b => b.EnergyJ.Value);

    /// <summary>Charge moved between two times. [C]</summary>
    public double ChargeBetweenC(double fromS, double toS) => Integral(fromS, toS, static b => b.ChargeC.Value);

    /// <summary>Integral of voltage between two times. [V·s]</summary>
    public double VoltSecondsBetween(double fromS, double toS) => Integral(fromS, toS, static b => b.VoltSeconds.Value);

    /// <summary>Integral of the squared current between two times. [A²·s]</summary>
    public double SquaredCurrentBetweenS(double fromS, double toS) => Integral(fromS, toS, static b => b.SquaredCurrentS.Value);

    /// <summary>Covered time between two times. [s]</summary>
    public double CoveredBetweenS(double fromS, double toS) => Integral(fromS, toS, static b => b.CoveredS.Value);

    /// <summary>Time in bridged gaps between two times. [s]</summary>
    public double BridgedBetweenS(double fromS, double toS) => Integral(fromS, toS, static b => b.BridgedS.Value);

    /// <summary>The envelope of both pieces.</summary>
    public static PowerEnvelope Combine(PowerEnvelope a, PowerEnvelope b)
    {
        var joined = a.Clone();
        if (b.Count == 0)
        {
            return joined;
        }

        var other = b.Clone();
        while (joined._exponent < other._exponent)
        {
            joined.Coarsen();
        }

        while (other._exponent < joined._exponent)
        {
            other.Coarsen();
        }

        joined.Reach(other._first);
        joined.Reach(other._first + other.Count - 1);
        while (other._exponent < joined._exponent)
        {
            other.Coarsen();
        }

        for (int i = 0; i < other.Count; i++)
        {
            ref var bucket = ref joined._buckets[checked((int)(other._first + i - joined._first))];
            bucket = EnvelopeBucket.Join(bucket, other._buckets[i]);
        }

        return joined;
    }

    /// <summary>A copy that shares nothing with this one.</summary>
    public PowerEnvelope Clone() => new(_exponent) { _first = _first, Count = Count, _buckets = _buckets.AsSpan(0, Count).ToArray() };

    /// <summary>The same with cells twice as wide, as often as needed to have at most <paramref name="count"/>.</summary>
    public PowerEnvelope Reduced(int count)
    {
        var reduced = Clone();
        while (reduced.Count > count)
        {
            reduced.Coarsen();
        }

        return reduced;
    }

    private long IndexOf(double timeS) => (long)Math.Floor(timeS * _perSecond);

    private ref EnvelopeBucket BucketAt(double timeS)
    {
        long offset = IndexOf(timeS) - _first;
        if (offset < 0 || offset >= Count)
        {
            Reach(IndexOf(timeS));
            offset = IndexOf(timeS) - _first;
        }

        return ref _buckets[offset];
    }

    private void Reach(long index)
    {
        if (Count == 0)
        {
            _first = index;
        }

        int exponent = _exponent;
        long first = Math.Min(_first, index);
        long last = Math.Max(_first + Count - 1, index);
        while (last - first + 1 > MaxBuckets)
        {
            Coarsen();
            first = Math.Min(_first, index >> (_exponent - exponent));
            last = Math.Max(_first + Count - 1, index >> (_exponent - exponent));
        }

        int count = (int)(last - first + 1);
        if (count > _buckets.Length || first < _first)
        {
            var grown = new EnvelopeBucket[Math.Min(MaxBuckets, Math.Max(count, 2 * _buckets.Length))];
            _buckets.AsSpan(0, Count).CopyTo(grown.AsSpan((int)(_first - first)));
            grown.AsSpan(0, (int)(_first - first)).Fill(EnvelopeBucket.Empty);
            grown.AsSpan((int)(_first - first) + Count).Fill(EnvelopeBucket.Empty);
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
        long first = _first >> 1;
        int count = Count == 0 ? 0 : (int)(((_first + Count - 1) >> 1) - first + 1);
        var joined = new EnvelopeBucket[Math.Max(count, 1)];
        joined.AsSpan().Fill(EnvelopeBucket.Empty);
        for (int i = 0; i < Count; i++)
        {
            ref var bucket = ref joined[(int)(((_first + i) >> 1) - first)];
            bucket = EnvelopeBucket.Join(bucket, _buckets[i]);
        }

        _buckets = joined;
        _first = first;
        Count = count;
        _exponent++;
        _perSecond = Math.ScaleB(1, -_exponent);
    }

    private double Integral(double fromS, double toS, Func<EnvelopeBucket, double> of)
    {
        double from = Math.Max(fromS, OriginS);
        double to = Math.Min(toS, StartS(Count));
        if (!(from < to))
        {
            return 0;
        }

        int firstCell = (int)(IndexOf(from) - _first);
        int lastCell = Math.Min(Count - 1, (int)(IndexOf(to) - _first));
        var sum = default(Metrology.Statistics.CompensatedSum);
        for (int i = firstCell; i <= lastCell; i++)
        {
            double share = (Math.Min(to, StartS(i + 1)) - Math.Max(from, StartS(i))) / BucketWidthS;
            sum += of(_buckets[i]) * share;
        }

        return sum.Value;
    }
}
