using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Places at which the last stretch may begin, in order, with bounds on what all comes to. A logarithm takes most of the time of a cost,
/// and for nearly all places a bound tells that they are not the best ones: the chord of a logarithm lies below it, by less than
/// <see cref="WidthOfLog"/>. The variances inside are those of <see cref="SegmentCost.Of"/> to the last bit.
/// </summary>
internal sealed class StretchStarts
{
    /// <summary>A chord over 1/256 of an octave lies below the logarithm by at most (1/256)²/8 (elementary calculus), and this is
    /// more.</summary>
    private const double WidthOfLog = 2.5e-6;

    // More than all roundings of the bound and of the logarithm itself.
    private const double Rounding = 1e-11;

    private const int FractionBits = 52;
    private const int PieceBits = 8;
    private const int RestBits = FractionBits - PieceBits;
    private const int ExponentOfOne = 1023;
    private const double LogOfTwo = 0.69314718055994530942;

    private static readonly double[] LogOfPiece =
        [.. Enumerable.Range(0, 1 << PieceBits).Select(i => Math.Log(1 + ((double)i / (1 << PieceBits))))];
    private static readonly double[] RiseOfPiece =
        [.. Enumerable.Range(0, 1 << PieceBits).Select(i => Math.Log(1 + ((i + 1.0) / (1 << PieceBits))) - LogOfPiece[i])];

    private readonly SegmentCost _cost;
    private readonly int[] _at;
    private readonly double[] _start;
    private readonly double[] _sum;
    private readonly double[] _sumIndex;
    private readonly double[] _sumSquare;
    private readonly double[] _before;
    private readonly double[] _least;

    /// <summary>No places.</summary>
    /// <param name="cost">Costs of stretches.</param>
    public StretchStarts(SegmentCost cost)
    {
        _cost = cost;

        // Two are looked at at once, and one may be left over.
        int room = cost.Count + 2;
        _at = new int[room];
        (_start, _sum, _sumIndex, _sumSquare) = (new double[room], new double[room], new double[room], new double[room]);
        (_before, _least) = (new double[room], new double[room]);
    }

    /// <summary>How many there are.</summary>
    public int Count { get; private set; }

    /// <summary>The cell of a place.</summary>
    public int this[int index] => _at[index];

    /// <summary>Adds a place behind all others.</summary>
    /// <param name="at">Its cell.</param>
    /// <param name="before">What all before it comes to.</param>
    public void Add(int at, double before)
    {
        _at[Count] = at;
        _start[Count] = at;
        (_sum[Count], _sumIndex[Count], _sumSquare[Count]) = _cost.SumsTo(at);
        _before[Count++] = before;
    }

    /// <summary>Keeps those that are still possible.</summary>
    public void Keep(Func<int, bool> isPossible)
    {
        int kept = 0;
        for (int i = 0; i < Count; i++)
        {
            if (!isPossible(_at[i]))
            {
                continue;
            }

            if (kept < i)
            {
                (_at[kept], _start[kept], _before[kept]) = (_at[i], _start[i], _before[i]);
                (_sum[kept], _sumIndex[kept], _sumSquare[kept]) = (_sum[i], _sumIndex[i], _sumSquare[i]);
            }

            kept++;
        }

        Count = kept;
    }

    /// <summary>What all up to a cell comes to if the last stretch begins at a place.</summary>
    public double Total(int index, int end) => _before[index] + _cost.Of(_at[index], end);

    /// <summary>For each place a value that this is never below.</summary>
    public ReadOnlySpan<double> Least => _least.AsSpan(0, Count);

    /// <summary>A value that this is never above.</summary>
    public double Most(int index, int end) => _least[index] + (_cost.Weight * (end - _at[index]) * WidthOfLog);

    /// <summary>Works out the bounds for stretches that end before a cell.</summary>
    /// <returns>The place with the least of them; below zero where none can be compared.</returns>
    public int Bound(int end)
    {
        var (sumTo, sumIndexTo, sumSquareTo) = _cost.SumsTo(end);
        var (to, sum, sumIndex, sumSquare) =
            (Vector128.Create((double)end), Vector128.Create(sumTo), Vector128.Create(sumIndexTo), Vector128.Create(sumSquareTo));
        var half = Vector128.Create(0.5);
        var middle = Vector128.Create(0.5 * _cost.Count);
        var floor = Vector128.Create(_cost.FloorW2);
        double weight = _cost.Weight;
        var (log, rise) = (LogOfPiece, RiseOfPiece);
        int least = -1;
        double leastTotal = double.PositiveInfinity;
        for (int i = 0; i < Count; i += 2)
        {
            var from = Of(_start, i);
            var cells = to - from;
            var inside = sum - Of(_sum, i);
            var centre = (half * (from + to)) - middle;
            var cross = sumIndex - Of(_sumIndex, i) - (centre * inside);
            var spread = cells * ((cells * cells) - Vector128<double>.One) / Vector128.Create(12.0);
            var residual = sumSquare - Of(_sumSquare, i) - (inside * inside / cells) - (cross * cross / spread);
            residual = Vector128.ConditionalSelect(Vector128.LessThan(residual, Vector128<double>.Zero), Vector128<double>.Zero, residual);
            var variance = (residual / cells) + floor;
            double total = LeastTotal(i, end, variance.ToScalar(), weight, log, rise);
            _least[i] = total;
            (leastTotal, least) = total < leastTotal ? (total, i) : (leastTotal, least);
            if (i + 1 < Count)
            {
                total = LeastTotal(i + 1, end, variance[1], weight, log, rise);
                _least[i + 1] = total;
                (leastTotal, least) = total < leastTotal ? (total, i + 1) : (leastTotal, least);
            }
        }

        return least;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private double LeastTotal(int index, int end, double variance, double weight, double[] logOfPiece, double[] riseOfPiece)
    {
        long bits = BitConverter.DoubleToInt64Bits(variance);
        long exponent = bits >> FractionBits;

        // Zero, tiny, endless and not a number.
        if (exponent is <= 0 or >= 2 * ExponentOfOne)
        {
            return Total(index, end);
        }

        int piece = (int)(bits >> RestBits) & ((1 << PieceBits) - 1);
        double rest = (bits & ((1L << RestBits) - 1)) * (1.0 / (1L << RestBits));
        double log = ((exponent - ExponentOfOne) * LogOfTwo) + logOfPiece[piece] + (riseOfPiece[piece] * rest) - Rounding;
        return _before[index] + (weight * (end - _at[index]) * log);
    }

    private static Vector128<double> Of(double[] values, int index) =>
        Vector128.LoadUnsafe(ref MemoryMarshal.GetArrayDataReference(values), (nuint)index);
}
