using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>
/// JCGM 100:2008, 4.4.3, Table 1: twenty observations of a temperature, as <see cref="Repeatability"/> takes runs (readings from memory;
/// their mean and deviation, as the guide prints them, bear them out).
/// </summary>
public sealed class Gum44TypeAChecks
{
    private static readonly double[] Observations =
    [
        96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
        100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72,
    ];

    [Fact]
    public void Mean_deviation_and_deviation_of_the_mean()
    {
        var mean =
            Repeatability.Combine([.. Observations.Select(t => Measured.Exact(t, "°C"))], InfluenceSource.ScatterOf("bath", "temperature"));
        Assert.Equal(100.145, mean.Mean.Value, 5e-4);
        Assert.Equal(1.489, mean.StandardDeviation!.Value, 5e-4);
        Assert.Equal(0.333, mean.Mean.StandardUncertainty!.Value, 5e-4);
        Assert.Equal(19, mean.Mean.DegreesOfFreedom!.Value, 1e-9);
    }

    // 4.3.10 and 5.2.4: an error common to all observations does not average out, and is not counted with the scatter.
    [Fact]
    public void A_common_error_stays_whole_beside_the_scatter()
    {
        var gain = InfluenceSource.OfMeter("thermometer", SourceKind.MeterGain, "temperature-gain");
        var mean = Repeatability.Combine(
            [.. Observations.Select(t => Measured.From(t, "°C", [new(gain, 0.5)]))], InfluenceSource.ScatterOf("bath", "temperature"));
        Assert.Equal(Math.Sqrt((0.333 * 0.333) + 0.25), mean.Mean.StandardUncertainty!.Value, 5e-4);
    }
}
