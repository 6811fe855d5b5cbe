using ChargeAudit.Logs;
using static ChargeAudit.Tests.Measuring.Integration.SampleSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>A mean belongs to the interval that it was taken over, on the side of its stamp that its kind says.</summary>
public sealed class AverageStampTests
{
    // The mean of 99 W stamped 567 s was taken from 566 to 567 s, or from 567 to 568 s: energy, greatest reading and count of readings all
    // lie there.
    [Theory]
    [InlineData(SampleKind.AverageEnding, 566)]
    [InlineData(SampleKind.AverageStarting, 567)]
    public void Energy_and_extremes_of_a_mean_lie_in_its_own_interval(SampleKind kind, double fromS)
    {
        var summary = Summarise(Enumerable.Range(1, 1000).Select(i => At(i, i == 567 ? 99 : i == 300 ? 0.25 : 1)), Rules(kind));
        var envelope = summary.Envelope;

        Assert.Equal(1, envelope.BucketWidthS);
        var own = envelope[envelope.IndexAt(fromS + 0.5)];
        Assert.Equal((99.0, 99.0, 99.0, 1L), (own.MaxPowerW, own.MinPowerW, own.EnergyJ.Value, own.Readings));
        foreach (double beside in new[] { fromS - 0.5, fromS + 1.5 })
        {
            Assert.Equal(1, envelope[envelope.IndexAt(beside)].MaxPowerW);
        }

        Assert.Equal(0.25, envelope[envelope.IndexAt(fromS - 266.5)].MinPowerW);
    }
}
