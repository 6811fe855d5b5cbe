using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>The mean of a column in bounded memory; joins bit by bit like the other sums.</summary>
internal readonly record struct MeanTally(CompensatedSum Sum, long Count)
{
    /// <summary>The mean; null where nothing was read.</summary>
    public double? Mean => Count > 0 ? Sum.Value / Count : null;

    public MeanTally Plus(double value) => double.IsNaN(value) ? this : new(Sum + value, Count + 1);

    public static MeanTally Join(MeanTally a, MeanTally b) => new(a.Sum + b.Sum, a.Count + b.Count);
}
