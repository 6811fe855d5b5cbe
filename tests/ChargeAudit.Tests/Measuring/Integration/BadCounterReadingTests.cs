using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.Integration.CounterSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>A reading that comes back to the old track is a bad one; a counter that goes on from near zero was reset.</summary>
public sealed class BadCounterReadingTests
{
    // 10 J a row from 500 J on: after 400 rows 4000 J.
    private static double[] Track(int rows = 401) => [.. Enumerable.Range(0, rows).Select(i => 500.0 + (10 * i))];

    private static double[] With(double[] readings, params (int Row, double Reading)[] changes)
    {
        foreach (var (row, reading) in changes)
        {
            readings[row] = reading;
        }

        return readings;
    }

    private static void Counts(double energyJ, int bad, int resets, double[] readings)
    {
        var counterOnly = Finished(Rows(readings), CounterOnly());
        Assert.Equal((energyJ, (long)bad, (long)resets),
            (Math.Round(counterOnly.CounterEnergyJ!.Value, 6), counterOnly.BadCounterReadings.Count, counterOnly.CounterResets.Count));
        Assert.Equal(0, counterOnly.CounterFalls.Count);
        Assert.Equal(energyJ, counterOnly.EnergyJ.Value, 5 + 1e-9);
    }

    [Theory]
    [InlineData(0.001)]
    [InlineData(11)]
    [InlineData(400)]
    [InlineData(1e4)]
    public void A_dip_is_left_out(double depthJ)
    {
        double[] readings = Track();
        readings[200] -= depthJ;
        // A dip that stays above the reading before it cannot be seen and does no harm.
        Counts(4000, depthJ > 10 ? 1 : 0, 0, readings);
    }

    [Fact]
    public void A_stray_zero_is_left_out() => Counts(4000, 1, 0, With(Track(), (200, 0)));

    [Fact]
    public void A_jump_up_and_back_is_left_out() => Counts(4000, 1, 0, With(Track(), (200, 36_000)));

    [Fact]
    public void Several_bad_readings_in_a_row_are_left_out() =>
        Counts(4000, 8, 0, With(Track(), (200, 0), (201, 0), (202, 1700), (203, 5), (204, 9000), (205, 9001), (206, 9002), (207, 0)));

    [Fact]
    public void Many_small_dips_are_left_out() =>
        Counts(4000, 15, 0, With(Track(), [.. Enumerable.Range(0, 15).Select(k => (20 + (25 * k), 500 + (10 * (20.0 + (25 * k))) - 30))]));

    [Fact]
    public void A_stray_zero_at_the_start_is_left_out() => Counts(3990, 1, 0, With(Track(), (0, 0)));

    [Fact]
    public void A_bad_reading_at_the_end_is_left_out()
    {
        Counts(3990, 1, 0, With(Track(), (400, 0)));
        Counts(3990, 1, 0, With(Track(), (400, 1e6)));
    }

    [Fact]
    public void A_flat_counter_with_dips_to_zero_does_not_move() =>
        Counts(0, 3, 0, With([.. Enumerable.Repeat(3600.0, 300)], (100, 0), (101, 0), (200, 0)));

    [Fact]
    public void A_reset_goes_on_from_near_zero()
    {
        // 500 to 2490, then 4, 14 …: 199 rows of 10 J and 4 J and 200 rows of 10 J.
        double[] readings = [.. Track(200), .. Enumerable.Range(0, 201).Select(i => 4.0 + (10 * i))];
        Counts(1990 + 4 + 2000, 0, 1, readings);
    }

    [Fact]
    public void A_reset_soon_after_the_start_is_a_reset()
    {
        double[] readings = [0, 10, 20, 30, 40, .. Enumerable.Range(0, 100).Select(i => 10.0 * i)];
        Counts(40 + 990, 0, 1, readings);
    }

    [Fact]
    public void A_counter_that_rolls_over_goes_on_from_zero()
    {
        // 9999.99 Wh and on in steps of 0.01 Wh, one a row: 99 to 9999.99, one to 10000.00 that shows as zero, and 100 more.
        double[] wh = [.. Enumerable.Range(0, 100).Select(i => 9999.00 + (0.01 * i)), .. Enumerable.Range(0, 101).Select(i => 0.01 * i)];
        var summary = Finished(Rows(wh.Select(w => w * 3600)), CounterOnly() with { CounterUnitJ = 3600 });
        Assert.Equal(1, summary.CounterResets.Count);
        Assert.Equal(2.00, summary.CounterEnergyJ!.Value / 3600, 6);
    }

    [Fact]
    public void A_fall_to_another_level_that_goes_on_adds_nothing()
    {
        double[] readings = [.. Track(200), .. Enumerable.Range(0, 201).Select(i => 1000.0 + (10 * i))];
        var summary = Finished(Rows(readings), CounterOnly());
        Assert.Equal(1, summary.CounterFalls.Count);
        Assert.Equal(1990 + 2000, summary.CounterEnergyJ!.Value, 6);
    }

    [Fact]
    public void Readings_that_always_fall_are_no_counter()
    {
        var random = new Random(1);
        var summary = Finished(Rows(Enumerable.Range(0, 5000).Select(_ => (double)random.Next(1000))), CounterOnly());
        Assert.True(summary.CounterIsUseless);
        Assert.Null(summary.CounterEnergyJ);
    }

    [Fact]
    public void A_cut_at_any_row_changes_nothing()
    {
        var random = new Random(7);
        for (int log = 0; log < 12; log++)
        {
            var rows = Odd(random).ToList();
            foreach (var rules in new[] { CounterOnly(), SampleSeries.Rules() with { CounterStepJ = 1 } })
            {
                var whole = Finished(rows, rules);
                for (int cut = 0; cut <= rows.Count; cut += 1 + (log % 3))
                {
                    Same(whole, InPieces(rows, rules, cut), cut);
                    int second = Math.Min(rows.Count, cut + random.Next(90));
                    Same(whole, InPieces(rows, rules, cut, second), cut);
                }
            }
        }
    }

    // Dips, jumps, resets and gaps, some close together and some far apart.
    private static IEnumerable<Sample> Odd(Random random)
    {
        double timeS = 0, counter = random.Next(200);
        for (int i = 0; i < 260; i++)
        {
            timeS += random.Next(60) == 0 ? 40 : 1;
            counter = random.Next(110) == 0 ? random.Next(3) : counter + random.Next(4);
            double reading = random.Next(25) switch
            {
                0 => 0,
                1 => counter + random.Next(500),
                2 => counter - random.Next(30),
                _ => counter,
            };
            yield return Sample.Empty(timeS, i + 2) with
            {
                PowerW = 1.5 + random.NextDouble(),
                EnergyCounterJ = i % 37 == 5 ? double.NaN : i > 150 ? counter : reading,
            };
        }
    }

    private static void Same(LogSummary whole, LogSummary joined, int cut)
    {
        Assert.Equal(Facts(whole), Facts(joined));
        Assert.Equal(whole.Counted, joined.Counted);
        Assert.Equal(whole.Gaps.Longest, joined.Gaps.Longest);
        Assert.Equal((whole.Envelope.Count, cut), (joined.Envelope.Count, cut));
        for (int i = 0; i < whole.Envelope.Count; i++)
        {
            Assert.Equal(whole.Envelope[i].EnergyJ.Value, joined.Envelope[i].EnergyJ.Value);
        }
    }

    private static (double, double?, double, FaultTally, FaultTally, FaultTally, double) Facts(LogSummary s) =>
        (s.EnergyJ.Value, s.CounterEnergyJ, s.CounterStepJ, s.CounterResets, s.CounterFalls, s.BadCounterReadings, s.CoveredS.Value);

    // 0.1 Wh a step and 8 W from row 60 to row 700 of 900, every 10 s: beside the first and the last reading the counter stands still.
    [Theory]
    [InlineData(0, 0, 20.0)]
    [InlineData(899, 46, 0)]
    [InlineData(893, 46, 0)]
    public void A_coarse_counters_leap_at_an_end_is_left_out(int from, double leapWh, double trackFromWh)
    {
        const double stepJ = 360;
        double flowedJ = 8 * 10 * 640;
        double[] readings = [.. Enumerable.Range(0, 900).Select(i =>
            Cut((trackFromWh * 3600) + (80 * Math.Clamp(i - 60, 0, 640)), stepJ))];
        if (from == 0)
        {
            readings[0] = 0;
        }

        for (int i = from; from > 0 && i < readings.Length; i++)
        {
            readings[i] += leapWh * 3600;
        }

        var rows = Rows(readings, 10).ToList();
        var whole = Finished(rows, CounterOnly(10));
        Assert.Equal(from == 0 ? 1 : 900 - from, whole.BadCounterReadings.Count);
        Assert.Equal(flowedJ, whole.CounterEnergyJ!.Value, stepJ);
        var pieces = InPieces(rows, CounterOnly(10), 5, 300, 896);
        Assert.Equal((whole.CounterEnergyJ, whole.EnergyJ.Value, whole.BadCounterReadings.Count),
            (pieces.CounterEnergyJ, pieces.EnergyJ.Value, pieces.BadCounterReadings.Count));
    }

    // A device that takes 600 W for two minutes at the end, in steps of 1 Wh, and a meter that shows nothing but one leap.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_other_rises_do_not_gainsay_is_an_advance(bool others)
    {
        double[] readings = [.. Enumerable.Range(0, 300).Select(i => 3600.0 * ((others ? i / 10 : 0) + (i >= 294 ? 20 : 0)))];
        var whole = Finished(Rows(readings, others ? 120 : 10), CounterOnly(others ? 120 : 10));
        Assert.Equal(0, whole.BadCounterReadings.Count);
        Assert.Equal(readings[^1] - readings[0], whole.CounterEnergyJ!.Value, 1e-6);
    }
}
