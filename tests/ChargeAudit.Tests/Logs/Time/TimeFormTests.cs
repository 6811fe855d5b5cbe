using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Time;

/// <summary>All forms of time that a log may carry: each is read to the seconds since the first row, and to the start where there is
/// one.</summary>
public sealed class TimeFormTests
{
    [Theory]
    [InlineData("2031-05-07T18:30:00|2031-05-07T18:30:01|2031-05-07T18:30:02.5", "0 1 2.5", "2031-05-07T18:30:00+00:00", true)]
    [InlineData("2031-05-07 18:30:00|2031-05-07 18:30:01|2031-05-07 18:30:02,5", "0 1 2.5", "2031-05-07T18:30:00+00:00", true, ';')]
    [InlineData("2031-05-07T18:30:00Z|2031-05-07T18:30:01Z|2031-05-07T18:30:02.5Z", "0 1 2.5", "2031-05-07T18:30:00+00:00", false)]
    [InlineData("2031-05-07T18:30:00+02:00|2031-05-07T18:30:01+02:00|2031-05-07T17:30:02+01:00", "0 1 2", "2031-05-07T18:30:00+02:00",
        false)]
    [InlineData("2031-05-07T18:30:00.000+0200|2031-05-07T18:30:00.250+0200|2031-05-07T18:30:00.500+0200", "0 0.25 0.5",
        "2031-05-07T18:30:00+02:00", false)]
    [InlineData("2031-05-07t18:30:00z|2031-05-07t18:30:01z", "0 1", "2031-05-07T18:30:00+00:00", false)]
    [InlineData("20310507T183000Z|20310507T183001Z|20310507T183003Z", "0 1 3", "2031-05-07T18:30:00+00:00", false)]
    [InlineData("2031-05-07 18:30|2031-05-07 18:31|2031-05-07 18:33", "0 60 180", "2031-05-07T18:30:00+00:00", true)]
    [InlineData("2031/05/07 18:30:00|2031/05/07 18:30:01", "0 1", "2031-05-07T18:30:00+00:00", true)]
    [InlineData("27/05/2031 18:30:00|27/05/2031 18:30:01", "0 1", "2031-05-27T18:30:00+00:00", true)]
    [InlineData("27/5/2031 8:30:00|27/5/2031 8:30:01", "0 1", "2031-05-27T08:30:00+00:00", true)]
    [InlineData("05/27/2031 18:30:00|05/27/2031 18:30:01", "0 1", "2031-05-27T18:30:00+00:00", true)]
    [InlineData("27.05.2031 18:30:00|27.05.2031 18:30:01", "0 1", "2031-05-27T18:30:00+00:00", true)]
    [InlineData("07.05.2031 18:30:00|07.05.2031 18:30:01", "0 1", "2031-05-07T18:30:00+00:00", true)]
    [InlineData("27.05.31 18:30:00|27.05.31 18:30:01", "0 1", "2031-05-27T18:30:00+00:00", true)]
    [InlineData("27-May-2031 18:30:00|27-May-2031 18:30:01", "0 1", "2031-05-27T18:30:00+00:00", true)]
    [InlineData("27 May 2031 18:30:00|27 May 2031 18:30:01", "0 1", "2031-05-27T18:30:00+00:00", true)]
    [InlineData("May 7, 2031 6:30:00 PM|May 7, 2031 6:30:01 PM", "0 1", "2031-05-07T18:30:00+00:00", true, ';')]
    [InlineData("05/27/2031 11:59:59 AM|05/27/2031 12:00:00 PM|05/27/2031 12:00:01 PM|05/27/2031 1:00:00 PM", "0 1 2 3601",
        "2031-05-27T11:59:59+00:00", true)]
    [InlineData("05/27/2031 12:00:00 am|05/27/2031 12:00:01 a.m.", "0 1", "2031-05-27T00:00:00+00:00", true)]
    [InlineData("1936000000|1936000001|1936000002.5", "0 1 2.5", "2031-05-08T09:46:40+00:00", false)]
    [InlineData("1936000000000|1936000001000|1936000002500", "0 1 2.5", "2031-05-08T09:46:40+00:00", false)]
    [InlineData("1936000000000000|1936000001000000|1936000002500000", "0 1 2.5", "2031-05-08T09:46:40+00:00", false)]
    [InlineData("0|0.5|1", "0 0.5 1", null, false)]
    [InlineData("12.5|13|13.5", "0 0.5 1", null, false)]
    [InlineData("0|1000|2000|3000", "0 1 2 3", null, false)]
    [InlineData("23:59:58|23:59:59|00:00:00|00:00:01", "0 1 2 3", null, false)]
    [InlineData("11:59:59 PM|12:00:00 AM|12:00:01 AM", "0 1 2", null, false)]
    [InlineData("23:59:58.500|24:00:00.000|25:00:00.250", "0 1.5 3601.75", null, false)]
    [InlineData("1.23:59:59|2.00:00:00|2.00:00:01", "0 1 2", null, false)]
    [InlineData("45:00|45:30|46:00", "0 30 60", null, false)]
    [InlineData("48005.50000000|48005.50001157|48005.50002315", "0 1 2", "2031-06-06T12:00:00+00:00", true)]
    public void A_time_is_read_in_each_form(string stamps, string seconds, string? start, bool local, char separator = ',')
    {
        LogText.Read read = LogText.Of(Log("time", stamps.Split('|'), separator));

        Assert.Equal(seconds.Split(' ').Select(s => double.Parse(s, System.Globalization.CultureInfo.InvariantCulture)),
            read.Samples.Select(s => Math.Round(s.TimeS, 2)));
        Assert.Equal(start, read.Layout.Start?.ToString("yyyy-MM-ddTHH:mm:sszzz", System.Globalization.CultureInfo.InvariantCulture));
        Assert.Equal(local, read.Layout.StartIsLocal);
        Assert.Empty(read.Outcome.Faults);
    }

    [Theory]
    [InlineData("time (ms)", "0|500|1000", 0.5)]
    [InlineData("Time [s]", "0|500|1000", 500)]
    [InlineData("time_us", "0|500|1000", 0.0005)]
    [InlineData("elapsed min", "0|5|10", 300)]
    [InlineData("t/h", "0|0.5|1", 1800)]
    public void The_unit_of_an_elapsed_time_is_heeded(string header, string stamps, double stepS)
    {
        LogText.Read read = LogText.Of(Log(header, stamps.Split('|')));

        Assert.Equal([0, stepS, 2 * stepS], read.Samples.Select(s => Math.Round(s.TimeS, 9)));
        Assert.Equal(stepS, read.Layout.MedianIntervalS, 1e-12);
    }

    [Fact]
    public void Date_and_clock_time_may_stand_in_two_columns()
    {
        LogText.Read read =
            LogText.Of("Date,Time,Voltage (V),Current (A)\n27/05/2031,23:59:59,5,1\n28/05/2031,00:00:00,5,1\n28/05/2031,00:00:01,5,1\n");

        Assert.Equal([0.0, 1, 2], read.Samples.Select(s => s.TimeS));
        Assert.Equal(LogQuantity.Date, read.Layout.Columns[0].Quantity);
        Assert.Equal(LogQuantity.Clock, read.Layout.Columns[1].Quantity);
    }

    [Fact]
    public void Rows_at_a_fixed_interval_need_no_time_column()
    {
        LogText.Read read = LogText.Of("power (W)\n5\n6\nx\n8\n", new LogOptions { FixedIntervalS = 0.5 });

        Assert.Equal([0, 0.5, 1.5], read.Samples.Select(s => s.TimeS));
        Assert.Equal(1, read.Outcome.RowsSkipped);
    }

    [Fact]
    public void Day_or_month_first_is_decided_from_a_date_anywhere_in_the_file()
    {
        string rows = string.Concat(Enumerable.Range(0, 4000)
            .Select(i => $"{new DateTime(2031, 3, 4).AddMinutes(5 * i):MM/dd/yyyy HH:mm:ss},5.00,1.000\n"));

        LogText.Read read = LogText.Of("time,U,I\n" + rows);

        Assert.Equal(new DateTime(2031, 3, 4), read.Layout.Start!.Value.DateTime);
        Assert.Equal(3999 * 300.0, read.Samples[^1].TimeS);
    }

    [Fact]
    public void Days_that_follow_one_another_decide_between_day_and_month()
    {
        LogText.Read read = LogText.Of(Log("time", ["03/04/2031 23:59:59", "04/04/2031 00:00:00", "04/04/2031 00:00:01"]));

        Assert.Equal(new DateTime(2031, 4, 3, 23, 59, 59), read.Layout.Start!.Value.DateTime);
        Assert.Equal([0.0, 1, 2], read.Samples.Select(s => s.TimeS));
    }

    [Fact]
    public void An_ambiguous_date_refuses_the_log_unless_the_order_is_told()
    {
        string text = Log("time", ["03/04/2031 12:00:00", "03/04/2031 12:00:01"]);

        InputException refused = Assert.Throws<InputException>(() => LogText.Of(text));
        LogText.Read day = LogText.Of(text, new LogOptions { DateOrder = DateOrder.DayFirst });
        LogText.Read month = LogText.Of(text, new LogOptions { DateOrder = DateOrder.MonthFirst });

        Assert.Contains("\"03/04/2031 12:00:00\" may be day first or month first", refused.Message, StringComparison.Ordinal);
        Assert.Equal(4, day.Layout.Start!.Value.Month);
        Assert.Equal(3, month.Layout.Start!.Value.Month);
    }

    [Fact]
    public void Where_two_columns_are_times_the_finer_one_is_taken()
    {
        LogText.Read read =
            LogText.Of(
                "clock,elapsed (s),U,I\n2031-05-07 18:30:00,0.0,5,1\n2031-05-07 18:30:00,0.5,5,1\n2031-05-07 18:30:01,1.0,5,1\n2031-05-07 "
            + "18:30:01,1.5,5,1\n");

        Assert.Equal([0, 0.5, 1, 1.5], read.Samples.Select(s => s.TimeS));
    }

    [Fact]
    public void A_column_of_dates_needs_no_header_word()
    {
        LogText.Read read = LogText.Of("when,U (V),I (A)\n2031-05-07 18:30:00,5,1\n2031-05-07 18:30:01,5,1\n");

        Assert.Equal([0.0, 1], read.Samples.Select(s => s.TimeS));
        Assert.Contains(read.Layout.Notes, n => n.Contains("\"when\" was taken for the time", StringComparison.Ordinal));
    }

    internal static string Log(string header, IReadOnlyList<string> stamps, char separator = ',') =>
        $"{header}{separator}voltage (V){separator}current (A)\n" + string.Concat(stamps.Select(s => $"{s}{separator}5{separator}1\n"));
}
