using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>Moving mean of power over a charge, for the times at which it passes a level.</summary>
internal sealed class SmoothTrack
{
    private readonly double[] _timeS;
    private readonly double[] _powerW;

    private SmoothTrack(double[] timeS, double[] powerW, int cellsPerMean)
    {
        _timeS = timeS;
        _powerW = powerW;
        CellsPerMean = cellsPerMean;
    }

    /// <summary>Cells that one mean is taken over.</summary>
    public int CellsPerMean { get; }

    /// <summary>Greatest mean. [W]</summary>
    public double GreatestW => _powerW.Max();

    public static SmoothTrack Of(PowerEnvelope envelope, ModeSpan charge)
    {
        var series = PowerSeries.From(envelope);
        int from = Math.Clamp(series.IndexAt(charge.StartS), 0, series.Count - 1);
        int to = Math.Clamp(series.IndexAt(charge.EndS - (1e-6 * series.WidthS)) + 1, from + 1, series.Count);

        // A minute, but no more than a hundredth of the charge: the fall must stay sharp.
        int half = Math.Max(0, (int)(Math.Min(60, 0.01 * charge.DurationS) / series.WidthS / 2));
        var time = new double[to - from];
        var power = new double[to - from];
        double sum = 0;
        int first = from;
        int end = from;
        for (int i = from; i < to; i++)
        {
            int reach = Math.Min(half, Math.Min(i - from, to - 1 - i));
            while (end <= i + reach)
            {
                sum += series.PowerW[end++];
            }

            while (first < i - reach)
            {
                sum -= series.PowerW[first++];
            }

            // Near the edges the window shrinks; both ends then move inwards together.
            while (end > i + reach + 1)
            {
                sum -= series.PowerW[--end];
            }

            power[i - from] = sum / (end - first);
            time[i - from] = series.StartS[i] + (0.5 * series.WidthS);
        }

        return new SmoothTrack(time, power, (2 * half) + 1);
    }

    /// <summary>The last time at which the mean falls through a level, and how fast; null where it ends above it or never reaches
    /// it.</summary>
    public (double TimeS, double FallWPerS)? LastCrossing(double levelW)
    {
        if (_powerW[^1] >= levelW)
        {
            return null;
        }

        for (int i = _powerW.Length - 2; i >= 0; i--)
        {
            if (_powerW[i] >= levelW)
            {
                double share = (_powerW[i] - levelW) / (_powerW[i] - _powerW[i + 1]);
                int before = Math.Max(0, i - (5 * CellsPerMean));
                int after = Math.Min(_powerW.Length - 1, i + 1 + (5 * CellsPerMean));
                double fall = (_powerW[before] - _powerW[after]) / (_timeS[after] - _timeS[before]);
                return (_timeS[i] + (share * (_timeS[i + 1] - _timeS[i])), fall);
            }
        }

        return null;
    }
}
