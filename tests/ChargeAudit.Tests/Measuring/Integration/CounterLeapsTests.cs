using ChargeAudit.Measuring.Integration;
using static ChargeAudit.Tests.Measuring.Integration.CounterSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>Leaps in the midst of a log by a counter alone, and long stretches off the track that a leap begins or ends.</summary>
public sealed class CounterLeapsTests
{
    private const int Length = 400;
    private const double IntervalS = 30;

    // 0.3 W, from row 40 to row 240 12 W, and 0.3 W again; steps of 0.01 Wh, from 20 Wh on.
    private static double FlowedJ(int row) => IntervalS * ((0.3 * row) + (11.7 * Math.Clamp(row - 40, 0, 200)));

    private static double[] Track() => [.. Enumerable.Range(0, Length).Select(i => Cut(72_000 + FlowedJ(i), 36))];

    private static LogSummary Of(double[] readings, params int[] cuts) => cuts.Length > 0
        ? InPieces([.. Rows(readings, IntervalS)], CounterOnly(IntervalS), cuts)
        : Finished(Rows(readings, IntervalS), CounterOnly(IntervalS));

    private static double[] With(Func<int, double, double> reading) => [.. Track().Select((r, i) => reading(i, r))];

    public static TheoryData<string, double> OffTrack => new()
    {
        { "zeros", 0 },
        { "low", 0.8 },
        { "high", 1.5 },
    };

    [Theory]
    [MemberData(nameof(OffTrack))]
    public void A_long_stretch_off_the_track_is_left_out(string what, double factor)
    {
        foreach (int length in new[] { 33, 60, 100 })
        {
            double[] readings = With((i, r) => i >= 90 && i < 90 + length ? Cut(factor * r, 36) : r);
            var summary = Of(readings);
            Assert.Equal((what, (long)length, 0L, 0L), (what, summary.BadCounterReadings.Count, summary.CounterResets.Count,
                summary.CounterFalls.Count));
            Assert.Equal(FlowedJ(Length - 1), summary.CounterEnergyJ!.Value, 36.0);
            Assert.Empty(summary.HiddenAtFalls);
            var pieces = Of(readings, 91, 140);
            Assert.Equal(summary.Counted, pieces.Counted);
            Assert.Equal(summary.EnergyJ.Value, pieces.EnergyJ.Value);
        }
    }

    // 5 Wh are 600 W in a row, 1 Wh 120 W.
    [Theory]
    [InlineData(5)]
    [InlineData(1)]
    public void A_leap_within_a_charge_is_told_and_reaches_from_nothing_to_all(double leapWh)
    {
        var summary = Of(With((i, r) => i >= 120 ? r + (leapWh * 3600) : r));
        Assert.Equal(1, summary.CounterLeaps.Count);
        Assert.Equal((0L, 0L), (summary.CounterFalls.Count, summary.CounterResets.Count));
        Assert.Equal(FlowedJ(Length - 1), summary.CounterEnergyJ!.Value, (IntervalS * 12) + 72);
        Assert.InRange(Assert.Single(summary.HiddenAtFalls).HiddenJ, leapWh * 3600, 1.2 * ((leapWh * 3600) + (IntervalS * 12)));
    }

    // Another device of 2 kW for two minutes, a counter that stands still and makes up for it, rows that come late all at once, and a
    // counter that is reset and goes on.
    [Fact]
    public void What_may_well_have_flowed_is_an_advance()
    {
        Quiet(With((i, r) => r + (36 * 1666.0 * Math.Clamp(i - 300, 0, 8))), 36 * 1666.0 * 8);
        double[] track = Track();
        Quiet(With((i, r) => i is >= 100 and < 160 ? track[99] : r), 0);
        Quiet(With((i, r) => r - (i >= 150 ? track[150] : 0)), 0, falls: 1);
        double[] late = [.. Enumerable.Range(0, Length).Select(i => i is >= 100 and < 104 ? (103 * IntervalS) + (0.01 * (i - 103))
            : i * IntervalS)];
        var summary = Finished(Rows(track, IntervalS).Select((s, i) => s with { TimeS = late[i] }), CounterOnly(IntervalS));
        Assert.Equal(FlowedJ(Length - 1), summary.CounterEnergyJ!.Value, 72.0);
        Assert.Equal((0L, 0L), (summary.CounterLeaps.Count, summary.BadCounterReadings.Count));
    }

    private static void Quiet(double[] readings, double moreJ, int falls = 0)
    {
        var summary = Of(readings);
        Assert.Equal((0L, 0L, (long)falls), (summary.CounterLeaps.Count, summary.BadCounterReadings.Count,
            summary.CounterResets.Count + summary.CounterFalls.Count));
        Assert.Equal(FlowedJ(Length - 1) + moreJ, summary.CounterEnergyJ!.Value, (IntervalS * 12) + 72);
    }

    // Rows 100 to 118 twice, the second time with their own stamps: the clock seems to be set back, and the counter falls by what it rose.
    [Fact]
    public void A_fall_where_the_clock_was_set_back_is_no_reset()
    {
        var rows = Rows(Track(), IntervalS).ToList();
        double backS = 19 * IntervalS;
        var twice = rows.Take(119).Concat(rows.Skip(100).Select((s, i) => s with
        {
            TimeS = s.TimeS + backS,
            Line = s.Line + 19,
            AfterClockStep = i == 0,
        }));
        var summary = Finished(twice, CounterOnly(IntervalS));
        Assert.Equal((0L, 1L), (summary.CounterResets.Count, summary.CounterFalls.Count));
        double energyJ = summary.CounterEnergyJ!.Value;
        double hiddenJ = Assert.Single(summary.HiddenAtFalls).HiddenJ;
        Assert.InRange(FlowedJ(Length - 1), energyJ - (0.949 * hiddenJ), energyJ + (0.949 * hiddenJ));
        Assert.InRange(hiddenJ, 0, 2 * 12 * backS);
    }
}
