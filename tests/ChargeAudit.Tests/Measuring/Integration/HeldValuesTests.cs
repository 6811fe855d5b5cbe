using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using static ChargeAudit.Tests.Measuring.Integration.SampleSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

public class HeldValuesTests
{
    private static readonly (double TimeS, double PowerW)[] Jumps = [(0, 0.3), (600, 9), (4200, 5), (6000, 2), (7800, 0.5), (9600, 0.6),
        (9900, 0.5)];

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

    // Down from 10 W by half a watt each minute, threshold 0.5 W. Held 10, 9.5, …: the first minute does not begin with such a change and
    // holds 10 W; the means of the other nine lie between the held value and 0.25 W less: the middle is 0.125 W less, and all of them err
    // together by up to 9·60·0.125 J to either side.
    [Fact]
    public void A_taper_lies_between_the_held_values_and_the_straight_line()
    {
        var summary = Of([.. Enumerable.Range(0, 11).Select(i => (60.0 * i, 10 - (0.5 * i)))], 0.5);
        double held = Enumerable.Range(0, 10).Sum(i => 60 * (10 - (0.5 * i)));
        Assert.Equal(held - (9 * 60 * 0.125), summary.EnergyJ.Value, 9);
        Assert.Equal(-9 * 60 * 0.25, summary.Unseen!.OneWayBetweenJ(double.NegativeInfinity, double.PositiveInfinity), 9);
        Assert.Equal(Math.Sqrt(0.25 * 60 * 60 / 6), summary.Unseen.StandardBetweenJ(double.NegativeInfinity, double.PositiveInfinity), 9);
    }

    // Looked at every 20 s: the jump to 9 W written at 600 s came anywhere since 580 s, so 0.3 W is held until 590 s: 0.3·590 + 9·10 J, and
    // the variance of the place is (8.7·20)²/12.
    [Fact]
    public void A_jump_came_anywhere_since_the_look_before()
    {
        var summary = Summarise([At(0, 0.3, 1), At(600, 9, 2)], OnChange(0.1, lookS: 20));
        Assert.Equal((0.3 * 590) + (9 * 10), summary.EnergyJ.Value, 9);
        double unwritten = 0.1 * 0.1 * 600 * 600 / 6;
        Assert.Equal(Math.Sqrt(unwritten + (8.7 * 20 * 8.7 * 20 / 12)),
            summary.Unseen!.StandardBetweenJ(double.NegativeInfinity, double.PositiveInfinity), 9);
    }

    // Rows at every look are readings in turn: 10, 7, 4, 1 W every 20 s give 20·(8.5 + 5.5 + 2.5) J.
    [Fact]
    public void Rows_at_every_look_are_joined_by_straight_lines()
    {
        var summary = Summarise([At(0, 10, 1), At(20, 7, 2), At(40, 4, 3), At(60, 1, 4)], OnChange(0.5, lookS: 20));
        Assert.Equal(20 * (8.5 + 5.5 + 2.5), summary.EnergyJ.Value, 9);
    }

    // Up by 0.5 W and down again: the signed differences cancel, what is unknown does not.
    [Fact]
    public void A_rise_does_not_make_up_for_a_fall()
    {
        var summary = Of([(0, 8), (60, 8.5), (120, 9), (180, 9.1), (240, 8.6), (300, 8.1)], 0.5);
        Assert.Equal(60 * (0.25 + 0.05 - 0.25 - 0.25), summary.Unseen!.OneWayBetweenJ(double.NegativeInfinity, double.PositiveInfinity), 9);
        Assert.Equal(60 * (0.25 + 0.05 + 0.25 + 0.25), summary.Unseen.EitherWayBetweenJ(double.NegativeInfinity, double.PositiveInfinity),
            9);
    }

    // The modes are found in a line that goes down without steps: half a watt a minute.
    [Fact]
    public void The_course_of_a_taper_has_no_steps()
    {
        var summary = Of([.. Enumerable.Range(0, 11).Select(i => (64.0 * i, 10 - (0.5 * i)))], 0.5);
        for (int i = 2; i < 9; i++)
        {
            Assert.Equal(10 - (0.5 * i), 0.5 * (summary.Course.MeanAtW((64 * i) - 0.5) + summary.Course.MeanAtW((64 * i) + 0.5)), 1e-2);
        }
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
                samples.Add(At(time, power, i + 1) with
                {
                    VoltageV = 5 + random.NextDouble(),
                    CurrentA = power / 5,
                    AfterClockStep = i > 0 && random.Next(12) == 0,
                });
                time += random.Next(5) == 0 ? 0 : random.Next(1, 4000) / 64.0;
                power = Math.Max(0.1, power + (random.Next(4) switch { 0 => 4 * (random.NextDouble() - 0.5), 1 => 0.5, _ => -0.5 }));
            }

            // Intervals of half a minute make cells of a second: a few hundred, where those of a second would make tens of thousands.
            var rules = OnChange(0.5, trial % 3 == 0 ? 0 : 8) with { MedianIntervalS = 32 };
            var whole = Summarise(samples, rules);
            for (int a = 0; a <= samples.Count; a++)
            {
                int b = Math.Min(samples.Count, a + random.Next(4));
                var joined = LogSummary.Builder.Combine(
                    LogSummary.Builder.Combine(Build(samples.Take(a), rules),
                        Build(samples.Skip(a).Take(b - a), rules)),
                    Build(samples.Skip(b), rules)).Finish();
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
            s.Unseen!.OneWayBetweenJ(double.NegativeInfinity, double.PositiveInfinity),
                s.Unseen.StandardBetweenJ(double.NegativeInfinity, double.PositiveInfinity));

    private static SummaryRules OnChange(double thresholdW, double lookS = 0) => Rules(SampleKind.OnChange) with
    {
        GapThresholdS = double.PositiveInfinity,
        ChangeThreshold = new ChangeThreshold(LogQuantity.Power, thresholdW) { LookS = lookS },
    };

    private static LogSummary Of((double TimeS, double PowerW)[] rows, double thresholdW) =>
        Summarise(rows.Select((r, i) => At(r.TimeS, r.PowerW, i + 1)), OnChange(thresholdW));
}
