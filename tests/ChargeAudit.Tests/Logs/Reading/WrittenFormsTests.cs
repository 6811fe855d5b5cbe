using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>Times, numbers and shapes as spreadsheets, databases and people in other countries write them.</summary>
public sealed class WrittenFormsTests
{
    // Power goes 4, 5, 6, 7, 8 W, a row a minute from half past six in the evening of 17 May 2031.
    private static readonly double[] Powers = [4, 5, 6, 7, 8];

    [Theory]
    [InlineData("17.05.2031 18.{0:00}.00")]
    [InlineData("17.5.2031 18.{0:00}")]
    [InlineData("2031年5月17日 18時{0:00}分00秒")]
    [InlineData("2031年05月17日18时{0:00}分")]
    [InlineData("2031년 5월 17일 18시 {0:00}분 00초")]
    [InlineData("2031-05-17 下午 6:{0:00}:00")]
    [InlineData("2031. 5. 17. 오후 6:{0:00}:00", "2031-5-17 오후 6:{0:00}:00")]
    [InlineData("2031/5/17 午後6時{0}分")]
    public void Clocks_behind_a_date_are_read_as_they_are_written(string stamp, string? instead = null)
    {
        LogText.Read read = Read(instead ?? stamp);

        Assert.Equal([0.0, 60, 120, 180, 240], read.Samples.Select(s => s.TimeS));
        Assert.Equal(Powers, read.Samples.Select(s => s.PowerW));
        Assert.Equal(new DateTime(2031, 5, 17, 18, 30, 0), read.Layout.Start!.Value.DateTime);
    }

    [Theory]
    [InlineData("CEST", 2)]
    [InlineData("MEZ", 1)]
    [InlineData("EDT", -4)]
    [InlineData("PST", -8)]
    [InlineData("JST", 9)]
    [InlineData("UTC", 0)]
    public void A_zone_with_one_offset_is_that_offset(string zone, int hours)
    {
        LogText.Read read = Read($"2031-05-17 18:{{0:00}}:00 {zone}");

        Assert.Equal(new DateTimeOffset(2031, 5, 17, 18, 30, 0, TimeSpan.FromHours(hours)), read.Layout.Start);
        Assert.False(read.Layout.StartIsLocal);
    }

    [Fact]
    public void A_zone_in_brackets_adds_nothing_to_the_offset_before_it()
    {
        LogText.Read read = Read("2031-05-17T18:{0:00}:00+02:00[Europe/Paris]");

        Assert.Equal(new DateTimeOffset(2031, 5, 17, 18, 30, 0, TimeSpan.FromHours(2)), read.Layout.Start);
    }

    [Theory]
    [InlineData("1 234,5")]
    [InlineData("1\u202F234,5")]
    [InlineData("1'234,5")]
    [InlineData("1’234.5")]
    public void Groups_of_three_digits_are_one_number(string number)
    {
        string rows = string.Concat(Enumerable.Range(0, 5).Select(i => $"{i};{number}\n"));

        LogText.Read read = LogText.Of("t (s);P (mW)\n" + rows);

        Assert.All(read.Samples, s => Assert.Equal(1.2345, s.PowerW, 1e-12));
    }

    [Fact]
    public void C_beside_a_temperature_is_no_coulomb()
    {
        LogText.Read read = LogText.Of("time_s,case_temp_C,power_W\n0,21.5,4\n1,22.5,5\n2,24.5,6\n");

        Assert.Equal([LogQuantity.Time, LogQuantity.Temperature, LogQuantity.Power], read.Layout.Columns.Select(c => c.Quantity));
        Assert.Equal([21.5, 22.5, 24.5], read.Samples.Select(s => s.TemperatureC));
    }

    [Fact]
    public void Rows_of_several_devices_are_never_one_log()
    {
        string text = "time,channel,V,A\n" + string.Concat(Enumerable.Range(0, 5)
            .Select(i => $"2031-05-17T18:30:0{i},1,5,{i + 1}\n2031-05-17T18:30:0{i},2,5,0.2\n"));

        InputException refused = Assert.Throws<InputException>(() => LogText.Of(text));
        Assert.Contains("holds rows of 2 devices by its column \"channel\", \"1\", \"2\", which must not be mixed", refused.Message,
            StringComparison.Ordinal);
        Assert.Equal(Remedy.Series, refused.Remedy);

        LogText.Read read = LogText.Of(text, new LogOptions { Series = "1" });
        Assert.Equal([1.0, 2, 3, 4, 5], read.Samples.Select(s => s.CurrentA));
        Assert.Equal([2L, 4, 6, 8, 10], read.Samples.Select(s => s.Line));
    }

    [Fact]
    public void A_column_that_changes_now_and_then_names_no_devices()
    {
        string text = "time,source,power (W),voltage (V)\n" + string.Concat(Enumerable.Range(0, 20)
            .Select(i => $"2031-05-17T18:30:{i:00},{(i < 12 ? "pad" : "cable")},4,5.02\n"));

        Assert.Equal(20, LogText.Of(text).Samples.Count);
    }

    [Fact]
    public void A_blank_in_a_stamp_parts_no_columns_that_tabs_part()
    {
        string text = "device\tpower (W)\tlast changed\n" + string.Concat(Enumerable.Range(0, 5)
            .Select(i => $"pad\t{Powers[i]}\t2031-05-17 18:3{i}:00\n"));

        Assert.Equal(Powers, LogText.Of(text).Samples.Select(s => s.PowerW));
    }

    [Fact]
    public void Units_behind_the_numbers_leave_no_doubt()
    {
        const string text = "time_s;power\n0;4 W\n1;4.5 W\n2;900 mW\n";

        LogText.Read read = LogText.Of(text, new LogOptions { Strict = true });

        Assert.Equal([4, 4.5, 0.9], read.Samples.Select(s => s.PowerW));
    }

    [Fact]
    public void A_line_drawn_under_the_header_is_passed_over_and_told()
    {
        LogText.Read read = LogText.Of("| time_s | power_W |\n|--------|---------|\n| 0 | 4 |\n| 1 | 5 |\n| 2 | 6 |\n");

        Assert.Equal([4.0, 5, 6], read.Samples.Select(s => s.PowerW));
        Assert.Contains("1 drawn line passed over, the first at line 2.", read.Outcome.Notes);
        Assert.Empty(read.Outcome.Faults);
    }

    [Theory]
    [InlineData("""{"columns": ["time_s", "power_W"], "rows": [[0, 4], [1, 5], [2, 6]]}""")]
    [InlineData("""{"rows": [["time_s", "power_W"], [0, 4], [1, 5], [2, 6]]}""")]
    public void Names_stand_above_the_rows_or_beside_them(string json) =>
        Assert.Equal([4.0, 5, 6], LogText.Of(json, name: "log.json").Samples.Select(s => s.PowerW));

    [Fact]
    public void Words_of_a_header_tell_the_separator_where_fields_hold_blanks()
    {
        string text = "time,power (W)\n" + string.Concat(Enumerable.Range(0, 5).Select(i => $"2031-05-17 18:30:0{i},about {i}\n"));

        InputException refused = Assert.Throws<InputException>(() => LogText.Of(text));

        Assert.Contains("among \"time\", \"power (W)\"", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_level_that_rises_is_not_proposed_as_the_time()
    {
        InputException refused = Assert.Throws<InputException>(() => LogText.Of("power (W),level (%)\n4,20\n5,21\n6,22\n"));

        Assert.DoesNotContain("time = ", refused.Message, StringComparison.Ordinal);
    }

    private static LogText.Read Read(string stamp) => LogText.Of("time;power (W)\n" + string.Concat(Powers.Select((p, i) =>
        string.Format(System.Globalization.CultureInfo.InvariantCulture, stamp, 30 + i) + $";{p}\n")));
}
