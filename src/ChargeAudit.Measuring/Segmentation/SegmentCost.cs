namespace ChargeAudit.Measuring.Segmentation;

/// <summary>A straight line through a stretch of equal cells.</summary>
/// <param name="MeanW">Mean. [W]</param>
/// <param name="SlopeW">Slope per cell. [W]</param>
/// <param name="VarianceW2">Mean squared residual. [W²]</param>
/// <param name="Count">Cells.</param>
internal readonly record struct LineFit(double MeanW, double SlopeW, double VarianceW2, int Count)
{
    /// <summary>Value of the line at the first cell's start. [W]</summary>
    public double StartW => MeanW - (0.5 * Count * SlopeW);

    /// <summary>Value of the line at the last cell's end. [W]</summary>
    public double EndW => MeanW + (0.5 * Count * SlopeW);
}

/// <summary>
/// Twice the negative log-likelihood of a stretch whose readings scatter about a straight line with a variance of their own, in constant
/// time from running sums. The variance is kept above a floor, or three readings on a line by chance would look like certainty.
/// </summary>
internal sealed class SegmentCost
{
    private readonly double[] _sum;
    private readonly double[] _sumIndex;
    private readonly double[] _sumSquare;
    private readonly double _centreW;

    public SegmentCost(ReadOnlySpan<double> powerW, double floorW2, double weight)
    {
        FloorW2 = floorW2;
        Weight = weight;
        Count = powerW.Length;
        _sum = new double[Count + 1];
        _sumIndex = new double[Count + 1];
        _sumSquare = new double[Count + 1];
        foreach (double p in powerW)
        {
            _centreW += p / Math.Max(1, Count);
        }

        // Both axes are centred, so that the differences of running sums keep their digits.
        double middle = 0.5 * Count;
        for (int i = 0; i < Count; i++)
        {
            double x = powerW[i] - _centreW;
            _sum[i + 1] = _sum[i] + x;
            _sumIndex[i + 1] = _sumIndex[i] + (x * (i + 0.5 - middle));
            _sumSquare[i + 1] = _sumSquare[i] + (x * x);
        }
    }

    public int Count { get; }

    /// <summary>Least variance. [W²]</summary>
    public double FloorW2 { get; }

    /// <summary>Readings for each cell. [1]</summary>
    public double Weight { get; }

    /// <summary>Running sums over the cells before one, both axes centred.</summary>
    public (double Sum, double SumIndex, double SumSquare) SumsTo(int cell) => (_sum[cell], _sumIndex[cell], _sumSquare[cell]);

    public LineFit Fit(int from, int to)
    {
        int n = to - from;
        double sum = _sum[to] - _sum[from];
        double mean = sum / n;
        double centre = (0.5 * (from + to)) - (0.5 * Count);
        double cross = _sumIndex[to] - _sumIndex[from] - (centre * sum);
        double spread = n * (((double)n * n) - 1) / 12;
        double slope = spread > 0 ? cross / spread : 0;
        double residual = _sumSquare[to] - _sumSquare[from] - (n * mean * mean) - (slope * cross);
        return new LineFit(mean + _centreW, slope, Math.Max(0, residual) / n, n);
    }

    /// <summary>Cost of the cells from <paramref name="from"/> (inclusive) to <paramref name="to"/> (exclusive).</summary>
    public double Of(int from, int to)
    {
        int n = to - from;
        double sum = _sum[to] - _sum[from];
        double centre = (0.5 * (from + to)) - (0.5 * Count);
        double cross = _sumIndex[to] - _sumIndex[from] - (centre * sum);
        double spread = n * (((double)n * n) - 1) / 12;
        double residual = _sumSquare[to] - _sumSquare[from] - (sum * sum / n) - (spread > 0 ? cross * cross / spread : 0);
        return Weight * n * Math.Log((Math.Max(0, residual) / n) + FloorW2);
    }
}
