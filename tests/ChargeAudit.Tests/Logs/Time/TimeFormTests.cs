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
    [InlineData("17. 05. 2031 18:30:00|17. 05. 2031 18:30:10", "0 10", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("2031. 05. 17. 18:30:00|2031. 05. 17. 18:30:10", "0 10", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("2031.05.17. 18:30:00|2031.05.17. 18:30:10", "0 10", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("17. Mai 2031 18:30:00|17. Mai 2031 18:30:10", "0 10", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("17 août 2031 18:30:00|17 août 2031 18:30:10", "0 10", "2031-08-17T18:30:00+00:00", true)]
    [InlineData("17 de mayo de 2031 18:30:00|17 de mayo de 2031 18:30:10", "0 10", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("17 luglio 2031 18:30:00|17 luglio 2031 18:30:10", "0 10", "2031-07-17T18:30:00+00:00", true)]
    [InlineData("17-okt-2031 18:30:00|17-okt-2031 18:30:10", "0 10", "2031-10-17T18:30:00+00:00", true)]
    [InlineData("17 marraskuu 2031 18:30:00|17 marraskuu 2031 18:30:10", "0 10", "2031-11-17T18:30:00+00:00", true)]
    [InlineData("17. března 2031 18:30:00|17. března 2031 18:30:10", "0 10", "2031-03-17T18:30:00+00:00", true)]
    [InlineData("20310517183000|20310517183010|20310517183100", "0 10 60", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("203105171830|203105171831|203105171833", "0 60 180", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("2463004.50000000|2463004.50011574|2463004.50023148", "0 10 20", "2031-05-18T00:00:00+00:00", false)]
    [InlineData("Sat, 17 May 2031 18:30:00 +0200|Sat, 17 May 2031 18:30:10 +0200", "0 10", "2031-05-17T18:30:00+02:00", false, ';')]
    [InlineData("Sa 17.05.2031 18:30:00|Sa 17.05.2031 18:30:10", "0 10", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("20310517-183000|20310517-183010", "0 10", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("17/05/2031 6:30:00 p. m.|17/05/2031 6:30:10 p. m.", "0 10", "2031-05-17T18:30:00+00:00", true)]
    [InlineData("PT0S|PT10S|PT1M|PT1H2M3S", "0 10 60 3723", null, false)]
    [InlineData("0s|10s|1m00s|1m10s|1h02m03s", "0 10 60 70 3723", null, false)]
    [InlineData("18h30m00s|18h30m10s|18h31m00s", "0 10 60", null, false)]
    [InlineData("18.30.00|18.30.10|18.31.00", "0 10 60", null, false)]
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
    public void A_clock_time_beside_a_date_may_be_six_digits()
    {
        LogText.Read read = LogText.Of("date,time,power (W)\n20310527,235958,5\n20310527,235959,5\n20310528,000001,5\n");

        Assert.Equal([0.0, 1, 3], read.Samples.Select(s => s.TimeS));
    }

    [Theory]
    [InlineData("18.30.00", "18.30.10", "18.31.00")]
    [InlineData("18h30m00s", "18h30m10s", "18h31m00s")]
    [InlineData("18h30m0s", "18h30m10s", "18h31m")]
    public void A_clock_time_in_a_column_of_its_own_may_be_written_in_other_ways(string first, string second, string third)
    {
        LogText.Read read = LogText.Of($"Pvm;Klo;Teho (W)\n17.05.2031;{first};5\n17.05.2031;{second};5\n17.05.2031;{third};5\n");

        Assert.Equal([0.0, 10, 60], read.Samples.Select(s => s.TimeS));
        Assert.Equal(new DateTimeOffset(2031, 5, 17, 18, 30, 0, TimeSpan.Zero), read.Layout.Start);
    }

    [Theory]
    [InlineData("Datum;Stunde;Minute;Sekunde;Leistung (W)")]
    [InlineData("date;hour;minute;second;power (W)")]
    public void Parts_of_a_time_in_columns_of_their_own_are_not_taken_one_by_one(string header)
    {
        string log = header + "\n17.05.2031;18;30;0;5\n17.05.2031;18;30;10;5\n17.05.2031;18;30;20;5\n";

        Assert.Contains("parts of one time", Assert.Throws<InputException>(() => LogText.Of(log)).Message, StringComparison.Ordinal);
    }

    // Ten seconds are a sixth of a minute.
    [Fact]
    public void A_short_time_of_odd_steps_without_a_unit_is_doubted()
    {
        string log = "t;P (W)\n" + string.Concat(Enumerable.Range(0, 30).Select(i => InvariantText.Of($"{i / 6.0:0.####};5\n")));

        Assert.Contains(LogText.Of(log).Layout.Ambiguities, a => a.EndsWith("s was taken for it, not min or h.", StringComparison.Ordinal));
        Assert.Throws<InputException>(() => LogText.Of(log, new LogOptions { Strict = true }));
    }

    // Half past six as 1830, or as the worksheet's share of a day.
    [Theory]
    [InlineData("1830", "1831", "1832")]
    [InlineData("0.770833", "0.771528", "0.772222")]
    public void Another_number_that_may_be_a_time_of_day_beside_a_date_is_no_elapsed_time(string first, string second, string third)
    {
        string log = $"date,time,power (W)\n2031-05-27,{first},5\n2031-05-27,{second},5\n2031-05-27,{third},5\n";

        Assert.Contains("may be a time of day", Assert.Throws<InputException>(() => LogText.Of(log)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Seconds_beside_a_date_stay_seconds()
    {
        LogText.Read read = LogText.Of(
            "date,time,power (W)\n2031-05-27,0,5\n2031-05-27,40,5\n2031-05-27,80,5\n2031-05-27,120,5\n2031-05-27,160,5\n");

        Assert.Equal([0.0, 40, 80, 120, 160], read.Samples.Select(s => s.TimeS));
    }

    [Fact]
    public void Decimal_commas_among_commas_are_refused_and_an_empty_field_at_the_end_is_not()
    {
        string refused = Assert.Throws<InputException>(() => LogText.Of("time,power (W)\n0,4,500\n1,4,520\n2,4,510\n")).Message;

        Assert.Contains("header names 2 columns and its rows have 3 fields", refused, StringComparison.Ordinal);
        Assert.Equal(3, LogText.Of("time,power (W)\n0,4.500,\n1,4.520,\n2,4.510,\n").Samples.Count);
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
