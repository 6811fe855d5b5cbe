using ChargeAudit.Measuring.Counting;

namespace ChargeAudit.Tests.Measuring.Counting;

/// <summary>Straight lines in a counter's band, by closed forms.</summary>
public sealed class CounterBandTests
{
    private const double StepJ = 36;

    [Theory]
    [InlineData(1.0, 1)]
    [InlineData(0.3, 1)]
    [InlineData(7.7, 10)]
    public void Constant_power_is_one_line_whatever_the_phase(double powerW, double intervalS)
    {
        for (int k = 0; k < 12; k++)
        {
            double phaseJ = StepJ * (k + 0.4) / 12;
            var band = Band(t => phaseJ + (powerW * t), 3600, intervalS);
            var line = Assert.Single(band.Lines());
            Assert.Equal(0, line.From);

            // A line may turn by a step at each end.
            Assert.InRange(line.PowerW, powerW - (2 * StepJ / 3600), powerW + (2 * StepJ / 3600));
        }
    }

    /// <summary>Two levels that differ by D over a time T leave every line once D T/2 is more than a step: here after 144 s, a row or two
    /// less.</summary>
    [Theory]
    [InlineData(30, 1)]
    [InlineData(600, 2)]
    public void Two_levels_are_two_lines_once_they_differ_by_more_than_the_band(double lengthS, int lines)
    {
        var band = Band(t => t < lengthS ? 1.5 * t : (1.5 * lengthS) + (t - lengthS), 2 * lengthS, 1);
        var found = band.Lines();
        Assert.Equal(lines, found.Count);
        if (lines == 2)
        {
            // It may begin early by the time in which the difference makes a step, but not late; 30 s are allowed on both sides.
            Assert.InRange(found[1].StartS, lengthS - (StepJ / 0.5) - 30, lengthS + 30);
        }
    }

    [Fact]
    public void A_wider_band_takes_in_pulses()
    {
        // 1 W, with 2 W for 30 s of every 90 s.
        static double Energy(double t) => t + (30 * Math.Floor(t / 90)) + Math.Min(30, t % 90);
        var band = Band(Energy, 3600, 1, 3.6);
        Assert.True(band.Lines().Count > 20);
        Assert.Single(band.Lines(steps: 8));
    }

    [Fact]
    public void No_line_takes_more_power_than_it_may()
    {
        var band = Band(t => t < 1800 ? t : 1800 + (0.2 * (t - 1800)), 5400, 1);
        var line = band.LongestTo(band.Count, 1, 0.25);
        Assert.InRange(line.StartS, 1800 - 100, 1800 + 60);
        Assert.InRange(line.PowerW, 0.15, 0.25);
    }

    private static CounterBand Band(Func<double, double> energyJ, double lengthS, double intervalS, double stepJ = StepJ)
    {
        var readings = new List<(double, double)>();
        for (double t = 0; t <= lengthS; t += intervalS)
        {
            readings.Add((t, stepJ * Math.Floor(energyJ(t) / stepJ)));
        }

        return CounterBand.Of(readings, stepJ, 0, lengthS);
    }
}
