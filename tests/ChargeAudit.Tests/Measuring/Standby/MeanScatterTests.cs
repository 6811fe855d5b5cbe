using ChargeAudit.Measuring.Standby;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Standby;

/// <summary>The uncertainty of a mean by the scatter of its readings, tried on series of known memory.</summary>
public sealed class MeanScatterTests
{
    private const int Trials = 600;

    // Series x(t) = φ·x(t−1) + noise about a true mean of zero, as a load that wanders for 1/(1−φ) readings. Of 600 intervals at 95 %
    // between 93 % and all may hold; where the memory is a tenth of the series there is little to know it by, so 88 % are asked for.
    [Theory]
    [InlineData(0.0, 8, 0.93)]
    [InlineData(0.0, 1500, 0.93)]
    [InlineData(0.9, 1500, 0.93)]
    [InlineData(0.98, 1500, 0.92)]
    [InlineData(0.993, 1500, 0.88)]
    public void Intervals_hold_the_mean_of_a_load_that_wanders(double memory, int readings, double least)
    {
        int held = 0;
        for (int seed = 0; seed < Trials; seed++)
        {
            var random = new TruthRandom((ulong)(1000 + seed));
            double[] values = new double[readings];
            double x = random.Gauss() / Math.Sqrt(1 - (memory * memory));
            for (int i = 0; i < readings; i++)
            {
                values[i] = x;
                x = (memory * x) + random.Gauss();
            }

            var (u, freedom) = MeanScatter.Of(values, readings)!.Value;
            held += Math.Abs(values.Average()) <= StudentDistribution.Quantile(0.975, freedom) * u ? 1 : 0;
        }

        Assert.InRange((double)held / Trials, least, 0.995);
    }

    // Cells half as wide as the interval repeat each reading: four readings in eight cells are four. Of 1, 2, 3, 4 the deviation is √(5/3),
    // by √4.
    [Fact]
    public void Cells_that_repeat_a_reading_count_once()
    {
        var (u, freedom) = MeanScatter.Of([1, 1, 2, 2, 3, 3, 4, 4], 4)!.Value;
        Assert.InRange(u, 0.9 * Math.Sqrt(5.0 / 3) / 2, 1.02 * Math.Sqrt(5.0 / 3) / 2);
        Assert.Equal(3, freedom);
    }

    [Fact]
    public void Two_readings_show_no_scatter() => Assert.Null(MeanScatter.Of([1, 2], 2));
}
