using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Integration;

// What an envelope holds between two times.
public sealed partial class PowerEnvelope
{
    /// <summary>Energy between two times; half a cell counts half its energy. [J]</summary>
    public double EnergyBetweenJ(double fromS, double toS) => Integral<OfEnergy>(fromS, toS);

    /// <summary>Charge moved between two times. [C]</summary>
    public double ChargeBetweenC(double fromS, double toS) => Integral<OfCharge>(fromS, toS);

    /// <summary>Integral of voltage between two times. [V·s]</summary>
    public double VoltSecondsBetween(double fromS, double toS) => Integral<OfVoltage>(fromS, toS);

    /// <summary>Integral of the squared current between two times. [A²·s]</summary>
    public double SquaredCurrentBetweenS(double fromS, double toS) => Integral<OfSquaredCurrent>(fromS, toS);

    /// <summary>Covered time between two times. [s]</summary>
    public double CoveredBetweenS(double fromS, double toS) => Integral<OfCover>(fromS, toS);

    /// <summary>Time in bridged gaps between two times. [s]</summary>
    public double BridgedBetweenS(double fromS, double toS) => Integral<OfBridges>(fromS, toS);

    private double Integral<TOf>(double fromS, double toS)
        where TOf : struct, IOfCell
    {
        double from = Math.Max(fromS, OriginS);
        double to = Math.Min(toS, StartS(Count));
        if (!(from < to))
        {
            return 0;
        }

        int firstCell = (int)(IndexOf(from) - _first);
        int lastCell = Math.Min(Count - 1, (int)(IndexOf(to) - _first));
        var cells = Cells;
        var sum = default(CompensatedSum);
        for (int i = firstCell; i <= lastCell; i++)
        {
            // Only the outermost cells can lie in the stretch in part.
            double whole = default(TOf).Of(in cells[i]);
            sum += i > firstCell && i < lastCell ? whole : whole * Share(i, from, to);
        }

        return sum.Value;
    }

    // The log's first and last cell are covered in part: stretches that share one share what it holds, and no more.
    private double Share(int i, double fromS, double toS)
    {
        double start = i == 0 ? CoveredFromS : StartS(i);
        double end = i == Count - 1 ? CoveredToS : StartS(i + 1);
        return end > start ? Math.Clamp((Math.Min(toS, end) - Math.Max(fromS, start)) / (end - start), 0, 1) : 1;
    }

    // What is summed, known when the sum is compiled: a call for each cell takes more time than the sum.
    private interface IOfCell
    {
        double Of(in EnvelopeBucket cell);
    }

    private readonly struct OfEnergy : IOfCell
    {
        public double Of(in EnvelopeBucket cell) => cell.EnergyJ.Value;
    }

    private readonly struct OfCharge : IOfCell
    {
        public double Of(in EnvelopeBucket cell) => cell.ChargeC.Value;
    }

    private readonly struct OfVoltage : IOfCell
    {
        public double Of(in EnvelopeBucket cell) => cell.VoltSeconds.Value;
    }

    private readonly struct OfSquaredCurrent : IOfCell
    {
        public double Of(in EnvelopeBucket cell) => cell.SquaredCurrentS.Value;
    }

    private readonly struct OfCover : IOfCell
    {
        public double Of(in EnvelopeBucket cell) => cell.CoveredS.Value;
    }

    private readonly struct OfBridges : IOfCell
    {
        public double Of(in EnvelopeBucket cell) => cell.BridgedS.Value;
    }
}
