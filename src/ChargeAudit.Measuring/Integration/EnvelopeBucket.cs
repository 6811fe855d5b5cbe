using System.Runtime.CompilerServices;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>What happened in one cell of the envelope's time grid. Sums keep their compensation, so joining is exact.</summary>
public record struct EnvelopeBucket
{
    /// <summary>Readings that fell into the cell.</summary>
    public long Readings { readonly get; internal set; }

    /// <summary>Least reading; positive infinity where there is none. [W]</summary>
    public double MinPowerW { readonly get; internal set; }

    /// <summary>Greatest reading; negative infinity where there is none. [W]</summary>
    public double MaxPowerW { readonly get; internal set; }

    /// <summary>Integral of power over the cell's covered time. [J]</summary>
    public CompensatedSum EnergyJ { readonly get; internal set; }

    /// <summary>Time of the cell that the log covers, bridged gaps included. [s]</summary>
    public CompensatedSum CoveredS { readonly get; internal set; }

    /// <summary>The part of <see cref="CoveredS"/> that lies in bridged gaps and was not measured. [s]</summary>
    public CompensatedSum BridgedS { readonly get; internal set; }

    /// <summary>Integral of voltage; zero where the log has none. [V·s]</summary>
    public CompensatedSum VoltSeconds { readonly get; internal set; }

    /// <summary>Integral of current; zero where the log has none. [C]</summary>
    public CompensatedSum ChargeC { readonly get; internal set; }

    /// <summary>Integral of the squared current, from which the loss in a known resistance follows; zero where the log has none.
    /// [A²·s]</summary>
    public CompensatedSum SquaredCurrentS { readonly get; internal set; }

    /// <summary>A cell in which nothing happened.</summary>
    public static EnvelopeBucket Empty => new() { MinPowerW = double.PositiveInfinity, MaxPowerW = double.NegativeInfinity };

    /// <summary>Whether nothing happened in the cell.</summary>
    private readonly bool IsEmpty => Readings == 0 && CoveredS.Sum == 0 && CoveredS.Compensation == 0;

    /// <summary>Mean power over the covered time; NaN where nothing is covered. [W]</summary>
    public readonly double MeanPowerW => CoveredS.Value > 0 ? EnergyJ.Value / CoveredS.Value : double.NaN;

    /// <summary>Takes a reading for the extremes, in place: a copy of the cell for each row would cost more than the reading.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal void AddReading(double powerW)
    {
        Readings++;
        MinPowerW = powerW < MinPowerW ? powerW : MinPowerW;
        MaxPowerW = powerW > MaxPowerW ? powerW : MaxPowerW;
    }

    /// <summary>Takes several readings for the extremes, in place.</summary>
    internal void AddReadings(long count, double minPowerW, double maxPowerW)
    {
        Readings += count;
        MinPowerW = Math.Min(MinPowerW, minPowerW);
        MaxPowerW = Math.Max(MaxPowerW, maxPowerW);
    }

    /// <summary>Adds what was summed in this cell apart, in place.</summary>
    internal void Add(in RunSums run)
    {
        EnergyJ += run.EnergyJ;
        CoveredS += run.CoveredS;
        VoltSeconds += run.VoltSeconds;
        ChargeC += run.ChargeC;
        SquaredCurrentS += run.SquaredCurrentS;
    }

    /// <summary>Adds the part of an interval between two times, in place.</summary>
    internal void Add(in PowerInterval interval, double fromS, double toS)
    {
        double length = toS - fromS;
        double mean = fromS == interval.FromS && toS == interval.ToS
            ? 0.5 * (interval.FromW + interval.ToW)
            : interval.FromW
                + ((interval.ToW - interval.FromW) * ((0.5 * (fromS + toS)) - interval.FromS) / (interval.ToS - interval.FromS));
        AddMean(in interval, mean, length);
    }

    /// <summary>Adds an interval that lies in this cell as a whole, in place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal void AddWhole(in PowerInterval interval) =>
        AddMean(in interval, 0.5 * (interval.FromW + interval.ToW), interval.ToS - interval.FromS);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void AddMean(in PowerInterval interval, double mean, double length)
    {
        EnergyJ += mean * length;
        CoveredS += length;
        if (interval.Bridged)
        {
            BridgedS += length;
        }

        if (interval.MeanV != 0)
        {
            VoltSeconds += interval.MeanV * length;
        }

        if (interval.MeanA != 0)
        {
            ChargeC += interval.MeanA * length;
            SquaredCurrentS += interval.MeanA * interval.MeanA * length;
        }
    }

    /// <summary>Adds what the part of an interval between two times changes in energy and charge, in place; its time is counted
    /// already.</summary>
    internal void Correct(in PowerInterval change, double fromS, double toS)
    {
        double middle = ((0.5 * (fromS + toS)) - change.FromS) / (change.ToS - change.FromS);
        EnergyJ += (change.FromW + ((change.ToW - change.FromW) * middle)) * (toS - fromS);
        ChargeC += change.MeanA * (toS - fromS);
    }

    /// <summary>Both cells taken as one. Most often the first is empty: pieces that follow one another share no cell but that at their
    /// border.</summary>
    public static EnvelopeBucket Join(in EnvelopeBucket a, in EnvelopeBucket b) => a.IsEmpty ? b : new()
    {
        Readings = a.Readings + b.Readings,
        MinPowerW = Math.Min(a.MinPowerW, b.MinPowerW),
        MaxPowerW = Math.Max(a.MaxPowerW, b.MaxPowerW),
        EnergyJ = a.EnergyJ + b.EnergyJ,
        CoveredS = a.CoveredS + b.CoveredS,
        BridgedS = a.BridgedS + b.BridgedS,
        VoltSeconds = a.VoltSeconds + b.VoltSeconds,
        ChargeC = a.ChargeC + b.ChargeC,
        SquaredCurrentS = a.SquaredCurrentS + b.SquaredCurrentS,
    };
}
