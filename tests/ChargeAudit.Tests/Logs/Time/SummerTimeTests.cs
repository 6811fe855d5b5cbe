using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Time;

/// <summary>Local times over a change of summer time, with and without a named zone.</summary>
public sealed class SummerTimeTests
{
    private static readonly LogOptions Lisbon = new() { TimeZone = "Europe/Lisbon" };

    // In Lisbon clocks go from 01:00 to 02:00 on the last Sunday of March, and from 02:00 back to 01:00 on that of October, at 01:00 UTC.
    [Fact]
    public void No_time_passes_in_the_hour_that_spring_leaves_out()
    {
        LogText.Read read =
            LogText.Of(TimeFormTests.Log("time",
            ["2024-03-31 00:40:00", "2024-03-31 00:50:00", "2024-03-31 02:00:00", "2024-03-31 02:10:00"]), Lisbon);

        Assert.Equal([0.0, 600, 1200, 1800], read.Samples.Select(s => s.TimeS));
        Assert.Empty(read.Outcome.Faults);
        Assert.Equal(TimeSpan.Zero, read.Layout.Start!.Value.Offset);
    }

    [Fact]
    public void The_hour_that_autumn_repeats_passes_twice()
    {
        string[] stamps =
        [
            "2024-10-27 00:40:00", "2024-10-27 01:00:00", "2024-10-27 01:20:00", "2024-10-27 01:40:00",
            "2024-10-27 01:00:00", "2024-10-27 01:20:00", "2024-10-27 01:40:00", "2024-10-27 02:00:00", "2024-10-27 02:20:00",
        ];

        LogText.Read read = LogText.Of(TimeFormTests.Log("time", stamps), Lisbon);

        Assert.Equal(Enumerable.Range(0, 9).Select(i => 1200.0 * i), read.Samples.Select(s => s.TimeS));
        Assert.Empty(read.Outcome.Faults);
        Assert.Equal(TimeSpan.FromHours(1), read.Layout.Start!.Value.Offset);
        Assert.False(read.Layout.StartIsLocal);
    }

    [Fact]
    public void A_row_out_of_order_in_the_repeated_hour_is_not_the_change()
    {
        string[] stamps = ["2024-10-27 01:10:00", "2024-10-27 01:10:10", "2024-10-27 01:10:05", "2024-10-27 01:10:20",
            "2024-10-27 01:10:30", "2024-10-27 01:10:40"];

        LogText.Read read = LogText.Of(TimeFormTests.Log("time", stamps), Lisbon);

        Assert.Equal([0.0, 10, 20, 30, 40], read.Samples.Select(s => s.TimeS));
        Assert.Equal(FaultKind.TimeBackwards, Assert.Single(read.Outcome.Faults).Kind);
    }

    [Fact]
    public void Without_a_zone_the_repeated_hour_is_a_clock_step_that_says_so()
    {
        var stamps = Enumerable.Range(0, 60).Select(i => new DateTime(2024, 10, 27, 1, 0, 0).AddMinutes(i))
            .Concat(Enumerable.Range(0, 60).Select(i => new DateTime(2024, 10, 27, 1, 0, 0).AddMinutes(i)));

        LogText.Read read =
            LogText.Of(TimeFormTests.Log("time",
            [.. stamps.Select(s => s.ToString("yyyy-MM-dd HH:mm:ss", System.Globalization.CultureInfo.InvariantCulture))]));

        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal(FaultKind.ClockStep, fault.Kind);
        Assert.Contains("end of summer time", fault.Detail, StringComparison.Ordinal);
        Assert.Equal(119 * 60.0, read.Samples[^1].TimeS);
    }

    [Fact]
    public void An_unknown_zone_refuses_the_log()
    {
        InputException refused =
            Assert.Throws<InputException>(() =>
            LogText.Of(TimeFormTests.Log("time", ["2024-03-31 00:40:00"]), new LogOptions { TimeZone = "Europe/Lisboa" }));

        Assert.Contains("the time zone \"Europe/Lisboa\" is not known", refused.Message, StringComparison.Ordinal);
    }
}
