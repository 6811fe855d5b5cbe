using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Analysis.Integration;

/// <summary>What happened in one cell of the envelope's time grid. Sums keep their compensation, so joining is exact.</summary>
public readonly record struct EnvelopeBucket
{
    /// <summary>Readings that fell into the cell.</summary>
    public long Readings { get; init; }

    /// <summary>Least reading; positive infinity where there is none. [W]</summary>
    public double MinPowerW { get; init; }

    /// <summary>Greatest reading; negative infinity where there is none. [W]</summary>
    public double MaxPowerW { get; init; }

    /// <summary>Integral of power over the cell's covered time. [J]</summary>
    public CompensatedSum EnergyJ { get; init; }

    /// <summary>Time of the cell that the log covers, bridged gaps included. [s]</summary>
    public CompensatedSum CoveredS { get; init; }

    /// <summary>The part of <see cref="CoveredS"/> that lies in bridged gaps and was not measured. [s]</summary>
    public CompensatedSum BridgedS { get; init; }

    /// <summary>Integral of voltage; zero where the log has none. [V·s]</summary>
    public CompensatedSum VoltSeconds { get; init; }

    /// <summary>Integral of current; zero where the log has none. [C]</summary>
    public CompensatedSum ChargeC { get; init; }

    /// <summary>Integral of the squared current, from which the loss in a known resistance follows; zero where the log has none. [A²·s]</summary>
    public CompensatedSum SquaredCurrentS { get; init; }

    /// <summary>A cell in which nothing happened.</summary>
    public static EnvelopeBucket Empty => new() { MinPowerW = double.PositiveInfinity, MaxPowerW = double.NegativeInfinity };

    /// <summary>Mean power over the covered time; NaN where nothing is covered. [W]</summary>
    public double MeanPowerW => CoveredS.Value > 0 ? EnergyJ.Value / CoveredS.Value : double.NaN;

    /// <summary>Both cells taken as one.</summary>
    public static EnvelopeBucket Join(in EnvelopeBucket a, in EnvelopeBucket b) => new()
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
