using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>The covered cells of an envelope as plain arrays, cells without readings left out. Immutable.</summary>
internal sealed class PowerSeries
{
    private PowerSeries(double[] startS, double[] powerW, double widthS, double readingsPerCell, double meanVolt)
    {
        StartS = startS;
        PowerW = powerW;
        WidthS = widthS;
        ReadingsPerCell = readingsPerCell;
        MeanVolt = meanVolt;
    }

    /// <summary>Start of each covered cell. [s]</summary>
    public double[] StartS { get; }

    /// <summary>Mean power of each covered cell. [W]</summary>
    public double[] PowerW { get; }

    /// <summary>Width of a cell. [s]</summary>
    public double WidthS { get; }

    /// <summary>Readings for each cell, at most 1: neighbouring cells between two readings are not independent. [1]</summary>
    public double ReadingsPerCell { get; }

    /// <summary>Mean voltage over the log; zero where it has none. [V]</summary>
    public double MeanVolt { get; }

    /// <summary>Number of covered cells.</summary>
    public int Count => PowerW.Length;

    /// <summary>The same cells with other powers.</summary>
    /// <param name="powerW">Mean power of each covered cell. [W]</param>
    public PowerSeries With(double[] powerW) => new(StartS, powerW, WidthS, ReadingsPerCell, MeanVolt);

    /// <summary>End of a cell. [s]</summary>
    public double EndS(int index) => StartS[index] + WidthS;

    /// <summary>First cell that ends after a time.</summary>
    public int IndexAt(double timeS)
    {
        int found = Array.BinarySearch(StartS, timeS);
        int index = found >= 0 ? found : ~found - 1;
        return index >= 0 && EndS(index) > timeS ? index : index + 1;
    }

    /// <summary>Median power of some cells. [W]</summary>
    /// <param name="from">The first.</param>
    /// <param name="to">The one after the last.</param>
    public double MedianW(int from, int to) => HighMedian.Of(PowerW.AsSpan(from, to - from).ToArray());

    public static PowerSeries From(PowerEnvelope envelope)
    {
        // The first and the last cell may be covered for an instant only; such a cell is not a reading of its own.
        double least = 0.1 * envelope.BucketWidthS;
        int count = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            count += envelope[i].CoveredS.Value >= least ? 1 : 0;
        }

        var start = new double[count];
        var power = new double[count];
        double voltSeconds = 0;
        double covered = 0;
        long readings = 0;
        int at = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            readings += cell.Readings;
            double coveredS = cell.CoveredS.Value;
            if (coveredS < least)
            {
                continue;
            }

            start[at] = envelope.StartS(i);
            power[at++] = cell.EnergyJ.Value / coveredS;
            voltSeconds += cell.VoltSeconds.Value;
            covered += coveredS;
        }

        double perCell = readings == 0 || count == 0 || envelope.HoldsValues ? 1 : Math.Clamp((double)readings / count, 1.0 / count, 1);
        return new PowerSeries(start, power, envelope.BucketWidthS, perCell, covered > 0 ? voltSeconds / covered : 0);
    }
}
