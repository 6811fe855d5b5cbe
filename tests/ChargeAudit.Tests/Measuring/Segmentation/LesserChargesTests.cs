using ChargeAudit.Logs;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Two devices of unlike power in one log, and what only looks like a second one; drawn in steps of constant power, so that each
/// energy is a sum by hand.</summary>
public sealed class LesserChargesTests
{
    // 4 W for an hour, 2 W for 10 min and 1 W for 20 min: 4.667 Wh; 18 W for an hour and 9 W for 10 min: 19.5 Wh.
    private static readonly (double PowerW, double ForS)[] Lesser = [(4, 3600), (2, 600), (1, 1200)];
    private static readonly (double PowerW, double ForS)[] Greater = [(18, 3600), (9, 600), (3, 300)];

    [Theory]
    [InlineData(1, SampleKind.Instantaneous)]
    [InlineData(10, SampleKind.AverageEnding)]
    public void A_charge_of_a_quarter_of_the_power_is_found_before_a_greater_one(double intervalS, SampleKind kind)
    {
        var log = WrittenLog.Measure(
            InTurn([(0.1, 900), .. Lesser, (0.1, 1800), .. Greater, (0.1, 1200)]), intervalS, kind).Result;

        Assert.Equal(2, log.Sessions.Count);
        Assert.InRange(log.Sessions[0].StartS, 900 - intervalS, 900 + intervalS);
        Assert.True(log.Sessions[0].Energy.Value > 4.2, log.Sessions[0].Energy.ToString());
    }

    [Fact]
    public void And_after_a_greater_one()
    {
        var log = WrittenLog.Measure(
            InTurn([(0.1, 900), .. Greater, (0.1, 1800), .. Lesser, (0.1, 1200)]), 1, SampleKind.Instantaneous).Result;

        Assert.Equal(2, log.Sessions.Count);
        Assert.True(log.Sessions[1].Energy.Value > 4.2, log.Sessions[1].Energy.ToString());
    }

    // Waiting at 0.3 W, a full device at 1 W after its charge, and the pad alone again.
    [Fact]
    public void A_pad_that_draws_more_after_nothing_waits()
    {
        var log = WrittenLog.Measure(
            InTurn([(0.05, 600), (0.4, 3600), (0.3, 1200), (0.05, 600), .. Greater, (0.05, 1200)]), 1, SampleKind.Instantaneous).Result;

        Assert.Single(log.Sessions);
    }

    // A lamp of 4 W on the same socket for an hour does not fall as a battery does.
    [Fact]
    public void What_goes_on_and_off_without_a_fall_is_no_charge()
    {
        var log = WrittenLog.Measure(
            InTurn([(0.1, 900), (4, 3600), (0.1, 1800), .. Greater, (0.1, 1200)]), 1, SampleKind.Instantaneous).Result;

        Assert.Single(log.Sessions);
    }

    private static (double PowerW, double ToS)[] InTurn((double PowerW, double ForS)[] stretches)
    {
        double endS = 0;
        return [.. stretches.Select(s => (s.PowerW, endS += s.ForS))];
    }
}
