using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using static ChargeAudit.Tests.Measuring.Integration.SampleSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

public class HeldValuesTests
{
    private static readonly (double TimeS, double PowerW)[] Jumps = [(0, 0.3), (600, 9), (4200, 5), (6000, 2), (7800, 0.5), (9600, 0.6), (9900, 0.5)];

    // 0.3·600 + 9·3600 + 5·1800 + 2·1800 + 0.5·1800 + 0.6·300 = 46 260 J, where straight lines give 37 695 J.
    [Fact]
    public void Values_written_on_change_hold_until_the_next_row()
    {
        var summary = Of(Jumps, 0.1);
        Assert.Equal(46_260, summary.EnergyJ.Value, 9);
        Assert.Equal(12.85, summary.EnergyJ.Value / 3600, 12);
        Assert.Equal(9 * 3600, summary.Envelope.EnergyBetweenJ(600, 4200), 9.0 * 2048);
    }

    // The cells hold what the rows held: nothing of the 9 W lies before it was written.
    [Fact]
    public void A_jump_shows_in_the_cells_where_it_was_written()
    {
        var summary = Summarise([At(0, 1), At(64, 9), At(128, 1), At(192, 1)], OnChange(0.1) with { MedianIntervalS = 1 });
        Assert.Equal(1, summary.Envelope.EnergyBetweenJ(62, 63), 12);
        Assert.Equal(9, summary.Envelope.EnergyBetweenJ(64, 65), 12);
        Assert.Equal(1, summary.Envelope.EnergyBetweenJ(130, 131), 12);
    }

    // Down from 10 W by half a watt each minute, threshold 0.5 W. Held 10, 9.5, …: the first minute was not opened by such a change and holds 10 W; the other nine lie between
    // held and 0.25 W less on average: the middle is 0.125 W less, and all of them err together by up to 9·60·0.125 J to either side.
    [Fact]
    public void A_taper_lies_between_the_held_values_and_the_straight_line()
    {
        var summary = Of([.. Enumerable.Range(0, 11).Select(i => (60.0 * i, 10 - (0.5 * i)))], 0.5);
        double held = Enumerable.Range(0, 10).Sum(i => 60 * (10 - (0.5 * i)));
        Assert.Equal(held - (9 * 60 * 0.125), summary.EnergyJ.Value, 9);
        Assert.Equal(-9 * 60 * 0.25, summary.Unseen!.OneWayBetweenJ(double.NegativeInfinity, double.PositiveInfinity), 9);
        Assert.Equal(Math.Sqrt(0.25 * 60 * 60 / 6), summary.Unseen.StandardBetweenJ(double.NegativeInfinity, double.PositiveInfinity), 9);
    }

    // A share of the reading: 5 % of 10 W is 0.5 W, of 1 W 0.05 W.
    [Theory]
    [InlineData(10, 0.5)]
    [InlineData(1, 0.05)]
    public void A_threshold_in_per_cent_follows_the_reading(double powerW, double expectedW) =>
        Assert.Equal(expectedW, new ChangeThreshold(LogQuantity.Power, 0.05, IsShare: true).InPowerW(powerW, 0), 12);

    [Fact]
    public void A_threshold_of_current_becomes_power_by_the_voltage() =>
        Assert.Equal(0.18, new ChangeThreshold(LogQuantity.Current, 0.02).InPowerW(3, 9), 12);

    // Cut at every place, also where the change that opens an interval lies in the piece before.
    [Fact]
    public void Pieces_join_bit_for_bit_at_every_cut()
    {
        var random = new Random(5);
        for (int trial = 0; trial < 60; trial++)
        {
            double time = 0, power = 8;
            var samples = new List<ChargeAudit.Logs.Sample>();
            for (int i = 0; i < 24; i++)
            {
                samples.Add(At(time, power, i + 1) with { VoltageV = 5 + random.NextDouble(), CurrentA = power / 5, AfterClockStep = i > 0 && random.Next(12) == 0 });
                time += random.Next(5) == 0 ? 0 : random.Next(1, 4000) / 64.0;
                power = Math.Max(0.1, power + (random.Next(4) switch { 0 => 4 * (random.NextDouble() - 0.5), 1 => 0.5, _ => -0.5 }));
            }

            var whole = Summarise(samples, OnChange(0.5));
            for (int a = 0; a <= samples.Count; a++)
            {
                int b = Math.Min(samples.Count, a + random.Next(4));
                var joined = LogSummary.Builder.Combine(
                    LogSummary.Builder.Combine(Build(samples.Take(a), OnChange(0.5)), Build(samples.Skip(a).Take(b - a), OnChange(0.5))),
                    Build(samples.Skip(b), OnChange(0.5))).Finish();
                Assert.Equal(Facts(whole), Facts(joined));
                for (int i = 0; i < whole.Envelope.Count; i++)
                {
                    Assert.Equal(whole.Envelope[i].EnergyJ.Value, joined.Envelope[i].EnergyJ.Value);
                }
            }
        }
    }

    private static (double, double, double, double, double, double) Facts(LogSummary s) =>
        (s.EnergyJ.Value, s.CoveredS.Value, s.ChargeC.Value, s.VoltSeconds.Value,
            s.Unseen!.OneWayBetweenJ(double.NegativeInfinity, double.PositiveInfinity), s.Unseen.StandardBetweenJ(double.NegativeInfinity, double.PositiveInfinity));

    private static SummaryRules OnChange(double thresholdW) => Rules(SampleKind.OnChange) with
    {
        GapThresholdS = double.PositiveInfinity,
        ChangeThreshold = new ChangeThreshold(LogQuantity.Power, thresholdW),
    };

    private static LogSummary Of((double TimeS, double PowerW)[] rows, double thresholdW) =>
        Summarise(rows.Select((r, i) => At(r.TimeS, r.PowerW, i + 1)), OnChange(thresholdW));
}
