using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using CsCheck;
using static ChargeAudit.Tests.Measuring.Integration.SampleSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

public class LogSummaryTests
{
    [Fact]
    public void Instantaneous_samples_are_joined_by_straight_lines() =>
        Assert.Equal(15, Summarise([At(0, 10), At(1, 20)]).EnergyJ.Value);

    [Fact]
    public void Averages_of_the_interval_that_ends_count_over_the_interval_before_the_stamp()
    {
        var summary = Summarise([At(0, 10), At(1, 20), At(2, 40)], Rules(SampleKind.AverageEnding));
        Assert.Equal(70, summary.EnergyJ.Value);
        Assert.Equal(3, summary.EndS - summary.StartS);
    }

    [Fact]
    public void Averages_of_the_interval_that_starts_count_over_the_interval_after_the_stamp()
    {
        var summary = Summarise([At(0, 10), At(1, 20), At(2, 40)], Rules(SampleKind.AverageStarting));
        Assert.Equal(70, summary.EnergyJ.Value);
        Assert.Equal(3, summary.EndS - summary.StartS);
    }

    [Fact]
    public void Looking_at_a_summary_and_joining_a_copy_of_it_change_nothing()
    {
        LogSummary.Builder[] building = [new(Rules()), new(Rules())];
        for (int i = 0; i < 7; i++)
        {
            Assert.All(building, b => b.Add(At(i, 10 + i)));
            double soFar = (i * 10.0) + (i * i / 2.0);
            Assert.Equal(soFar, building[0].SoFar.Envelope.EnergyBetweenJ(-1, 10), 9);
            Assert.Equal(soFar, LogSummary.Builder.Combine(building[0], new LogSummary.Builder(Rules())).Finish().EnergyJ.Value, 9);
        }

        LogSummary[] seen = [.. building.Select(b => b.Finish())];
        Assert.Equal(78, seen[0].EnergyJ.Value, 12);
        Assert.Equal(seen[1].EnergyJ, seen[0].EnergyJ);
        Assert.Equal(seen[1].Envelope.EnergyBetweenJ(-1, 10), seen[0].Envelope.EnergyBetweenJ(-1, 10));
    }

    [Fact]
    public void A_finished_summary_takes_nothing_more()
    {
        var builder = Build([At(0, 10), At(1, 20)]);
        var summary = builder.Finish();
        Assert.Throws<InvalidOperationException>(() => builder.Add(At(2, 30)));
        Assert.Throws<InvalidOperationException>(() => builder.Join(Build([At(2, 30), At(3, 30)])));
        Assert.Equal(15, summary.EnergyJ.Value);
    }

    [Fact]
    public void A_counter_alone_gives_the_energy_by_its_differences()
    {
        var rules = Rules() with { Source = PowerSource.EnergyCounter };
        var summary = Summarise([0, 5, 5, 12], rules);
        Assert.Equal(12, summary.CounterEnergyJ);

        // Whether the first step from zero was cut or rounded is not known: a quarter of one more.
        Assert.Equal(12.25, summary.EnergyJ.Value, 9);

        static LogSummary Summarise(double[] counter, SummaryRules rules) =>
            SampleSeries.Summarise(counter.Select((c, i) => Sample.Empty(i, i + 1) with { EnergyCounterJ = c }), rules);
    }

    [Fact]
    public void After_a_counter_reset_counting_goes_on_from_zero()
    {
        var rules = Rules() with { Source = PowerSource.EnergyCounter };
        var summary =
            Summarise(new double[] { 90, 100, 4, 10 }.Select((c, i) => Sample.Empty(i, i + 1) with { EnergyCounterJ = c }), rules);
        Assert.Equal(20, summary.EnergyJ.Value, 9);
        Assert.Equal(20, summary.CounterEnergyJ);
    }

    [Fact]
    public void A_gap_is_bridged_counted_and_remembered()
    {
        var summary = Summarise([At(0, 10), At(1, 10), At(101, 20, line: 3), At(102, 20, line: 4)]);
        Assert.Equal(10 + 1500 + 20, summary.EnergyJ.Value);
        var gap = Assert.Single(summary.Gaps.Longest);
        Assert.Equal((1.0, 101.0, 3L, 1500.0, false), (gap.FromS, gap.ToS, gap.Line, gap.EnergyJ, gap.FromCounter));
        Assert.Equal(100, summary.Envelope.BridgedBetweenS(0, 200), 9);
    }

    [Fact]
    public void A_gap_is_left_out_when_asked()
    {
        var summary = Summarise([At(0, 10), At(1, 10), At(101, 20), At(102, 20)], Rules() with { Gaps = GapPolicy.Exclude });
        Assert.Equal(30, summary.EnergyJ.Value);
        Assert.Equal(2, summary.CoveredS.Value);
    }

    [Fact]
    public void A_counter_with_a_fine_step_bridges_a_gap()
    {
        var samples = new[] { At(0, 10), At(1, 10), At(101, 10), At(102, 10) };
        double[] counter = [0, 10, 710, 720];
        var summary = Summarise(samples.Zip(counter, (s, c) => s with { EnergyCounterJ = c }), Rules() with { CounterStepJ = 1 });
        Assert.Equal(720, summary.EnergyJ.Value, 9);
        Assert.True(Assert.Single(summary.Gaps.Longest).FromCounter);
    }

    [Fact]
    public void A_counter_whose_step_is_coarser_than_the_gap_bridges_nothing()
    {
        var samples = new[] { At(0, 10), At(1, 10), At(101, 10), At(102, 10) };
        var summary = Summarise(samples.Select(s => s with { EnergyCounterJ = 0 }), Rules() with { CounterStepJ = 36_000 });
        Assert.Equal(1020, summary.EnergyJ.Value);
    }

    [Fact]
    public void Reversed_flow_is_left_out_and_told()
    {
        var summary = Summarise([At(0, 4), At(1, 4), At(2, -2, line: 3)]);
        Assert.Equal(4, summary.EnergyJ.Value);
        Assert.Equal(1, summary.ReversedJ.Value);
    }

    [Fact]
    public void Noise_about_zero_is_not_reversed_flow()
    {
        var summary = Summarise([At(0, 0.01), At(1, -0.01), At(2, 0.01)]);
        Assert.Equal(0, summary.EnergyJ.Value, 12);
        Assert.Equal(0, summary.ReversedJ.Value);
    }

    [Fact]
    public void Joining_two_pieces_equals_the_whole_wherever_the_log_is_cut() => Irregular.Sample(samples =>
    {
        foreach (var kind in Enum.GetValues<SampleKind>())
        {
            var rules = Rules(kind) with { CounterStepJ = 0.1 };
            var whole = Summarise(samples, rules);
            for (int cut = 0; cut <= samples.Length; cut++)
            {
                var joined = LogSummary.Builder.Combine(Build(samples.Take(cut), rules), Build(samples.Skip(cut), rules)).Finish();
                Assert.Equal(Facts(whole), Facts(joined));
                AssertSameEnvelope(whole.Envelope, joined.Envelope);
            }
        }
    }, iter: 25, seed: "0000QRe4fBt3");

    [Fact]
    public void Ten_times_the_power_is_ten_times_the_energy() => Irregular.Sample(samples =>
    {
        var rules = Rules() with { ReversedBelowW = double.NegativeInfinity };
        double one = Build(samples, rules).SoFar.EnergyJ.Value;
        double ten = Build(samples.Select(s => s with { PowerW = 10 * s.PowerW }), rules).SoFar.EnergyJ.Value;
        Assert.Equal(10 * one, ten, 1e-9 * Math.Max(1, Math.Abs(ten)));
    }, iter: 200, seed: "0000QRe4fBt3");

    [Fact]
    public void A_shift_in_time_changes_nothing() => Gen.Select(Irregular, Gen.Int[-100_000, 100_000]).Sample((samples, shiftS) =>
    {
        var here = Summarise(samples);
        var there = Summarise(samples.Select(s => s with { TimeS = s.TimeS + shiftS }));
        Assert.Equal(here.EnergyJ.Value, there.EnergyJ.Value, 1e-7 * Math.Max(1, Math.Abs(here.EnergyJ.Value)));
        Assert.Equal(here.Gaps.Count, there.Gaps.Count);
    }, iter: 200, seed: "0000QRe4fBt3");

    private static (double Energy, double Covered, double Volts, double Charge, double Reversed, double Peak, long Samples, long Gaps,
        double? Counter, double Start, double End)
        Facts(LogSummary s) =>
        (s.EnergyJ.Value, s.CoveredS.Value, s.VoltSeconds.Value, s.ChargeC.Value, s.ReversedJ.Value, s.PeakPowerW, s.Samples, s.Gaps.Count,
            s.CounterEnergyJ, s.StartS, s.EndS);

    private static void AssertSameEnvelope(PowerEnvelope expected, PowerEnvelope actual)
    {
        Assert.Equal((expected.Count, expected.OriginS, expected.BucketWidthS), (actual.Count, actual.OriginS, actual.BucketWidthS));
        for (int i = 0; i < expected.Count; i++)
        {
            var (e, a) = (expected[i], actual[i]);
            bool same = e.EnergyJ.Value == a.EnergyJ.Value && e.CoveredS.Value == a.CoveredS.Value && e.Readings == a.Readings
                && e.MaxPowerW == a.MaxPowerW;
            if (!same)
            {
                Assert.Fail($"cell {i}: {e} and {a}");
            }
        }
    }
}
