using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;
using CsCheck;

namespace ChargeAudit.Tests.Logs.Cleaning;

/// <summary>Rows out of order, clocks that were set, and stamps coarser than the sampling.</summary>
public sealed class ClockTests
{
    [Theory]
    [InlineData("0 1 2 3 1 4 5 6", "0 1 2 3 4 5 6", 5)]
    [InlineData("0 1 2 4 3 5 6", "0 1 2 4 5 6", 4)]
    [InlineData("0 1 2 900 3 4 5 6", "0 1 2 3 4 5 6", 3)]
    [InlineData("0 1 2 3 0", "0 1 2 3", 4)]
    [InlineData("0 1 2 3 4 5 2 3 6 7 8", "0 1 2 3 4 5 6 7 8", 6)]
    public void Rows_out_of_order_are_dropped_and_counted(string times, string kept, int firstIndex)
    {
        LogText.Read read = Read(times);

        Assert.Equal(Numbers(kept), read.Samples.Select(s => s.TimeS));
        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal(FaultKind.TimeBackwards, fault.Kind);
        Assert.Equal(Numbers(times).Length - read.Samples.Count, fault.Count);
        Assert.Equal(fault.Count, read.Outcome.RowsSkipped);
        Assert.True(fault.FirstLine >= 2 + firstIndex - 1);
    }

    [Fact]
    public void After_a_clock_was_set_back_time_goes_on_by_the_median_interval()
    {
        string before = string.Join(' ', Enumerable.Range(1000, 50));
        string after = string.Join(' ', Enumerable.Range(400, 50));

        LogText.Read read = Read($"{before} {after}");

        Assert.Equal(Enumerable.Range(0, 100).Select(i => (double)i), read.Samples.Select(s => s.TimeS));
        Assert.Equal(50, read.Samples.ToList().FindIndex(s => s.AfterClockStep));
        Assert.Single(read.Samples, s => s.AfterClockStep);
        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal((FaultKind.ClockStep, 52L, 1L), (fault.Kind, fault.FirstLine, fault.Count));
        Assert.Contains("649 s", fault.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public void A_clock_set_back_shortly_before_the_end_still_counts()
    {
        LogText.Read read = Read("0 1 2 3 4 5 6 7 1 2 3");

        Assert.Equal([0.0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10], read.Samples.Select(s => s.TimeS));
    }

    [Fact]
    public void A_long_interval_is_passed_on_for_the_gap_rule_to_judge()
    {
        LogText.Read read = Read("0 1 2 3 500 501 502");

        Assert.Equal([0.0, 1, 2, 3, 500, 501, 502], read.Samples.Select(s => s.TimeS));
        Assert.Empty(read.Outcome.Faults);
        Assert.Equal(5, read.Layout.GapThresholdS);
    }

    [Fact]
    public void Now_and_then_a_doubled_stamp_is_kept_and_counted()
    {
        LogText.Read read = Read("0 1 2 2 3 4 5 6 7 8");

        Assert.Equal(10, read.Samples.Count);
        Assert.Equal(FaultKind.TimeDuplicate, Assert.Single(read.Outcome.Faults).Kind);
    }

    [Fact]
    public void Several_rows_a_stamp_are_spread_evenly_and_told()
    {
        var stamps = Enumerable.Range(2, 38).Select(i => i / 4);

        LogText.Read read = Read(string.Join(' ', stamps));

        Assert.Equal(Enumerable.Range(0, 38).Select(i => 0.25 * i), read.Samples.Select(s => Math.Round(s.TimeS, 9)));
        Assert.Equal(0.25, read.Layout.MedianIntervalS, 1e-9);
        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal(FaultKind.TimeDuplicate, fault.Kind);
        Assert.Contains("spread evenly", fault.Detail, StringComparison.Ordinal);
        Assert.Contains(read.Layout.Notes, n => n.Contains("rows carry one time stamp", StringComparison.Ordinal));
    }

    [Fact]
    public void Times_never_fall_whatever_the_clock_does()
    {
        Check.Sample(
            Gen.Int[-5, 30].Array[2, 60],
            steps =>
            {
                int at = 0;
                string times = string.Join(' ', steps.Select(s => at += s));
                LogText.Read read = Read(times);
                return read.Samples.Zip(read.Samples.Skip(1), (a, b) => b.TimeS >= a.TimeS).All(rising => rising)
                    && read.Outcome.Rows == read.Samples.Count && read.Outcome.Rows + read.Outcome.RowsSkipped == steps.Length;
            },
            seed: "000000000001",
            iter: 300);
    }

    private static LogText.Read Read(string times) =>
        LogText.Of("t,U,I\n" + string.Concat(times.Split(' ').Select(t => $"{t},5,1\n")), new LogOptions { MaxBadRowShare = 0.99 });

    private static double[] Numbers(string text) =>
        [.. text.Split(' ').Select(t => double.Parse(t, System.Globalization.CultureInfo.InvariantCulture))];
}
