using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>Power over part of a log in at most 64 pieces of several readings each, by their medians, so that short bursts do not count.
/// Immutable.</summary>
internal sealed class PieceTrack
{
    private const int MostPieces = 64;
    private const double LeastReadings = 3;

    private readonly double[] _startS;
    private readonly double[] _endS;

    private PieceTrack(double[] startS, double[] endS, double[] powerW)
    {
        _startS = startS;
        _endS = endS;
        PowerW = powerW;
    }

    /// <summary>Median power of each piece. [W]</summary>
    public double[] PowerW { get; }

    /// <summary>Number of pieces.</summary>
    public int Count => PowerW.Length;

    /// <summary>Start of a piece. [s]</summary>
    public double StartS(int index) => _startS[index];

    /// <summary>End of a piece. [s]</summary>
    public double EndS(int index) => _endS[index];

    /// <summary>Cuts a stretch; cells that touch its ends are left out.</summary>
    /// <param name="fine">The finest cells.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public static PieceTrack Of(PowerSeries fine, double fromS, double toS)
    {
        int first = fine.IndexAt(fromS);
        if (first < fine.Count && fine.StartS[first] < fromS)
        {
            first++;
        }

        int end = Math.Min(fine.Count, fine.IndexAt(toS));
        int cells = Math.Max(0, end - first);
        int few = (int)Math.Ceiling(LeastReadings / fine.ReadingsPerCell);

        // Slow rows are few: there each cell is a piece of its own.
        int each = Math.Max(cells / MostPieces, cells >= 4 * few ? few : 1);
        int count = cells / each;
        var (start, stop, power) = (new double[count], new double[count], new double[count]);
        for (int p = 0; p < count; p++)
        {
            int at = first + (p * each);
            start[p] = fine.StartS[at];
            stop[p] = fine.EndS(at + each - 1);
            power[p] = ArrayStatistics.MedianInplace(fine.PowerW[at..(at + each)]);
        }

        return new PieceTrack(start, stop, power);
    }

    /// <summary>Median of some pieces; NaN where there are none. [W]</summary>
    public double MedianW(int from, int to) => ArrayStatistics.MedianInplace(PowerW[Math.Max(0, from)..Math.Min(Count, to)]);
}
