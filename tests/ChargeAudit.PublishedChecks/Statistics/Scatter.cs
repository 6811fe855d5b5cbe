using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>Samples as means whose only error is their scatter.</summary>
internal static class Scatter
{
    public static Measured Mean(double[] values, string id) => Mean(SampleStatistics.Of(values), id);

    public static Measured Mean(SampleStatistics sample, string id) =>
        Measured.From(sample.Mean, "Wh",
            [new UncertaintyComponent(new InfluenceSource(id, sample.DegreesOfFreedom), sample.StandardErrorOfMean)]);
}
