using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Charges that fall in stairs, as a charger that lowers its current by equal steps makes them; drawn in steps of constant power,
/// so that each energy is a sum by hand.</summary>
public sealed class StairFallTests
{
    private const double StartS = 600;
    private const double HighW = 12.34;
    private const double HighS = 3600;
    private const double ConstantS = 1150;

    // The battery's current falls by e in 1150 s; the charger gives the nearest whole multiple of its step, down to the second one.
    [Theory]
    [InlineData(0.04, 0.05, 0.15, 1)]
    [InlineData(0.04, 0.05, 0.15, 10)]
    [InlineData(0.03, 0.05, 0.15, 1)]
    [InlineData(0.04, 0.3, 0.45, 1)]
    [InlineData(0.025, 0.3, 0.45, 5)]
    public void A_charge_that_falls_in_stairs_ends_at_the_last_of_them(double step, double waitingW, double fullW, double intervalS)
    {
        var levels = Stairs(step, 2, waitingW, fullW, 1500);
        double endS = levels[^3].ToS;
        var log = WrittenLog.Measure([.. levels], intervalS, SampleKind.Instantaneous).Result;

        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.EndS, endS - intervalS - 1, endS + intervalS + 1);
        Holds(charge.Energy, EnergyWh(levels, StartS, endS));
    }

    // The same where nothing is drawn before and after: the last stair might be the full device, and something else what is drawn later.
    [Fact]
    public void Where_nothing_tells_what_waits_the_interval_holds_the_last_stair_and_leaves_it_out_too()
    {
        var levels = Stairs(0.04, 2, 0, 0.15, 1500);
        double endS = levels[^3].ToS;
        var log = WrittenLog.Measure([.. levels], 1, SampleKind.Instantaneous).Result;

        var charge = Assert.Single(log.Sessions);
        Holds(charge.Energy, EnergyWh(levels, StartS, endS));
        Holds(charge.Energy, EnergyWh(levels, StartS, levels[^4].ToS));
        Assert.Contains(log.Doubts, d => d.Text.Contains("equal steps", StringComparison.Ordinal));
    }

    // The full device draws what the second stair does, and is taken off after a while: behind it only the waiting charger is seen.
    [Theory]
    [InlineData(1)]
    [InlineData(10)]
    public void The_last_level_before_the_waiting_charger_is_the_full_device(double intervalS)
    {
        var levels = Stairs(0.04, 3, 0.3, 0.96, 3000);
        double endS = levels[^3].ToS;
        var log = WrittenLog.Measure([.. levels], intervalS, SampleKind.Instantaneous).Result;

        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.EndS, endS - intervalS - 1, endS + intervalS + 1);
        Holds(charge.Energy, EnergyWh(levels, StartS, endS));
    }

    // A smooth fall, then a full device that draws 0.6 W (a twentieth), with half a minute at 2 W every ten minutes.
    [Fact]
    public void A_trickle_with_top_ups_after_a_fall_is_the_full_device()
    {
        List<(double PowerW, double ToS)> levels = [(0.3, StartS), (HighW, HighS)];
        for (double t = 10; t <= 2650; t += 10)
        {
            levels.Add((HighW * Math.Exp(-(t - 5) / ConstantS), HighS + t));
        }

        double endS = levels[^1].ToS;
        for (int i = 0; i < 6; i++)
        {
            levels.AddRange([(0.6, levels[^1].ToS + 570), (2, levels[^1].ToS + 600)]);
        }

        levels.Add((0.3, levels[^1].ToS + 900));
        var log = WrittenLog.Measure([.. levels], 1, SampleKind.Instantaneous).Result;

        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.EndS, endS - 60, endS + 60);
    }

    // Two levels of a full device, each a step down but no more of the same size: 0.9 W with its screen lit, then 0.5 W.
    [Fact]
    public void Two_levels_after_a_charge_are_no_staircase()
    {
        List<(double PowerW, double ToS)> levels = [(0.3, StartS), (HighW, HighS)];
        for (double t = 10; t <= 2400; t += 10)
        {
            levels.Add((HighW * Math.Exp(-(t - 5) / ConstantS), HighS + t));
        }

        double endS = levels[^1].ToS;
        levels.AddRange([(0.9, endS + 900), (0.5, endS + 2400), (0.3, endS + 3300)]);
        var log = WrittenLog.Measure([.. levels], 1, SampleKind.Instantaneous).Result;

        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.EndS, endS - 60, endS + 60);
    }

    private static void Holds(Measured energy, double trueWh)
    {
        var interval = energy.Interval()!.Value;
        Assert.InRange(trueWh, interval.Low, interval.High);
    }

    // The full power, then stairs down to the given one, the full device for a while, the waiting charger for 900 s.
    private static List<(double PowerW, double ToS)> Stairs(double step, int lowest, double waitingW, double fullW, double fullS)
    {
        List<(double PowerW, double ToS)> levels = [(waitingW, StartS), (HighW, HighS)];
        int highest = (int)Math.Round(1 / step);
        for (int stair = highest; stair >= lowest; stair--)
        {
            // Down to half a step below the stair.
            double untilS = HighS - (ConstantS * Math.Log((stair - 0.5) / highest));
            levels.Add((HighW * stair / highest, Math.Round(untilS)));
        }

        double endS = levels[^1].ToS;
        return [.. levels, (fullW, endS + fullS), (waitingW, endS + fullS + 900)];
    }

    private static double EnergyWh(List<(double PowerW, double ToS)> levels, double fromS, double toS)
    {
        double energyJ = 0;
        double startS = 0;
        foreach (var (powerW, endS) in levels)
        {
            energyJ += powerW * Math.Max(0, Math.Min(endS, toS) - Math.Max(startS, fromS));
            startS = endS;
        }

        return energyJ / 3600;
    }
}
