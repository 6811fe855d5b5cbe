using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.LongTables;

/// <summary>Tables with a name and a value in each row. Names and values are our own.</summary>
public sealed class LongTableTests
{
    [Fact]
    public void Rows_of_one_time_become_one_row_with_a_column_for_each_series()
    {
        string rows =
            string.Concat(Enumerable.Range(0, 20)
            .Select(i =>
            InvariantText.Of(
                $"desk voltage,{Stamp(i)},5.0{i % 10}\ndesk current,{Stamp(i)},0.9{i % 10}\ndesk power,{Stamp(i)},4.{50 + i}\n")));

        LogText.Read read = LogText.Of("sensor,recorded at,value\n" + rows);

        Assert.Equal(20, read.Outcome.Rows);
        Assert.Equal(0, read.Outcome.RowsSkipped);
        Assert.Equal((19.0, 4.69, 5.09, 0.99),
            (read.Samples[^1].TimeS, read.Samples[^1].PowerW, read.Samples[^1].VoltageV, read.Samples[^1].CurrentA));
        Assert.Contains("a name and a value in each row", read.Layout.TableForm!, StringComparison.Ordinal);
        Assert.Empty(read.Outcome.Faults);
    }

    [Fact]
    public void Lines_stay_those_of_the_file()
    {
        string rows = string.Concat(Enumerable.Range(0, 60)
            .Select(i => InvariantText.Of($"volts,{i},5.1,V\nwatts,{i},{(i == 30 ? "oops" : "4.5")},W\n")));

        LogText.Read read = LogText.Of("channel,time,value,unit\n" + rows);

        // A header, and two lines a second: the power of second 30 stands in line 1 + 2 × 30 + 2.
        Assert.Equal(63, Assert.Single(read.Outcome.Faults).FirstLine);
        Assert.Equal(3, read.Samples[0].Line);
    }

    [Fact]
    public void Two_devices_are_never_added_and_one_is_chosen_by_its_name()
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"{i},desk power,4.5\n{i},lamp power,9.5\n")));
        string log = "time,name,value\n" + rows;

        InputException refused = Assert.Throws<InputException>(() => LogText.Of(log));

        Assert.Contains("2 series of power, \"desk power\", \"lamp power\"", refused.Message, StringComparison.Ordinal);
        Assert.Equal((Remedy.Series, "'desk power'"), (refused.Remedy, refused.RemedyValue));
        Assert.All(LogText.Of(log, new LogOptions { Series = "LAMP" }).Samples, s => Assert.Equal(9.5, s.PowerW));
        Assert.Contains("desk power", Assert.Throws<InputException>(() => LogText.Of(log, new LogOptions { Series = "sofa" })).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Two_devices_in_one_column_of_power_are_told_apart_by_the_column_that_names_them()
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"{i};Tisch;4,5\n{i};Lampe;9,5\n")));
        string log = "Zeit;Gerät;Leistung (W)\n" + rows;

        Assert.Throws<InputException>(() => LogText.Of(log));
        Assert.All(LogText.Of(log, new LogOptions { Series = "Tisch" }).Samples, s => Assert.Equal(4.5, s.PowerW));
    }

    // No list of words is whole: readings that jump with a name and go on from one row of a name to its next are of several devices.
    [Theory]
    [InlineData("outlet", "pad", "lamp")]
    [InlineData("Steckdose", "Pad", "Lampe")]
    [InlineData("which", "in", "out")]
    [InlineData("tag", "pad", "lamp")]
    public void Two_devices_in_turn_need_no_known_word(string header, string one, string other)
    {
        string rows = string.Concat(Enumerable.Range(0, 20)
            .Select(i => InvariantText.Of($"{Stamp(10 * i)},{one},{4.5 + (0.01 * i)}\n{Stamp((10 * i) + 5)},{other},11.2\n")));
        string log = $"time,{header},power (W)\n{rows}";

        Assert.Contains("must not be mixed", Assert.Throws<InputException>(() => LogText.Of(log)).Message, StringComparison.Ordinal);
        Assert.Equal(20, LogText.Of(log, new LogOptions { Series = other }).Samples.Count(s => s.PowerW == 11.2));
    }

    [Fact]
    public void Two_devices_one_after_the_other_over_the_same_time_are_told_apart()
    {
        string Rows(string name, double watts) =>
            string.Concat(Enumerable.Range(0, 30).Select(i => InvariantText.Of($"{Stamp(10 * i)},{name},{watts + (0.01 * i)}\n")));

        string refused = Assert.Throws<InputException>(() => LogText.Of("time,tag,power (W)\n" + Rows("a", 4.5) + Rows("b", 11.2))).Message;

        Assert.Contains("must not be mixed", refused, StringComparison.Ordinal);
    }

    // "A" is a unit elsewhere.
    [Theory]
    [InlineData("A", 5.0)]
    [InlineData("B", 9.0)]
    public void A_device_and_a_quantity_in_two_columns_are_chosen_by_the_device(string wanted, double volts)
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of(
            $"{Stamp(i)},A,voltage,5\n{Stamp(i)},A,current,0.4\n{Stamp(i)},B,voltage,9\n{Stamp(i)},B,current,0.3\n")));
        string log = "time,device,quantity,value\n" + rows;

        Assert.Contains("\"A\", \"B\"", Assert.Throws<InputException>(() => LogText.Of(log)).Message,
            StringComparison.Ordinal);
        Assert.All(LogText.Of(log, new LogOptions { Series = wanted }).Samples, s => Assert.Equal(volts, s.VoltageV));
    }

    [Theory]
    [InlineData("17.05.2031", "18.30.00", "18.30.10")]
    [InlineData("17.05.31", "18.30.00", "18.30.10")]
    [InlineData("17.05.31", "18:30:00", "18:30:10")]
    [InlineData("2031-05-17", "18h30m00s", "18h30m10s")]
    public void A_long_table_knows_the_same_clocks_as_any_other(string date, string first, string second)
    {
        LogText.Read read = LogText.Of($"date;clock;sensor;value\n{date};{first};plug power;4\n{date};{first};room;21\n"
            + $"{date};{second};plug power;5\n{date};{second};room;21\n");

        Assert.Equal([(0.0, 4.0), (10.0, 5.0)], read.Samples.Select(s => (s.TimeS, s.PowerW)));
    }

    [Fact]
    public void A_state_that_comes_and_goes_while_readings_go_on_names_none()
    {
        string rows = string.Concat(Enumerable.Range(0, 40)
            .Select(i => InvariantText.Of($"{Stamp(i)},{(i % 2 == 0 ? "even" : "odd")},{4.5 + (0.1 * i)}\n")));

        Assert.Equal(40, LogText.Of("time,parity,power (W)\n" + rows).Samples.Count);
    }

    [Fact]
    public void A_state_that_readings_follow_names_none()
    {
        string rows = string.Concat(Enumerable.Range(0, 40)
            .Select(i => InvariantText.Of($"{Stamp(i)},{(i % 2 == 0 ? "on" : "off")},{(i % 2 == 0 ? 5 : 0.2)}\n")));

        Assert.Equal(40, LogText.Of("time,relay,power (W)\n" + rows).Samples.Count);
    }

    [Fact]
    public void A_series_that_no_column_names_is_not_passed_over()
    {
        string log = "time,power (W)\n" + string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"{i},4.5\n")));

        Assert.Contains("holds one series", Assert.Throws<InputException>(() => LogText.Of(log, new LogOptions { Series = "pad" })).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_unit_in_a_column_counts_row_by_row()
    {
        // The meter changes its range at 1 W: in all 20 rows the power is 4.5 W or 0.9 W.
        string rows = string.Concat(Enumerable.Range(0, 20)
            .Select(i => i % 2 == 0 ? InvariantText.Of($"{i},4.5,W\n") : InvariantText.Of($"{i},900,mW\n")));

        LogText.Read read = LogText.Of("time,value,unit\n" + rows);

        Assert.Equal(Enumerable.Range(0, 20).Select(i => i % 2 == 0 ? 4.5 : 0.9), read.Samples.Select(s => Math.Round(s.PowerW, 9)));
        Assert.Empty(read.Outcome.Faults);
    }

    [Fact]
    public void A_unit_column_beside_a_column_of_power_counts_too()
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"{i},{(i < 10 ? "4500,mW" : "4.5,W")}\n")));

        Assert.All(LogText.Of("time,power,unit\n" + rows).Samples, s => Assert.Equal(4.5, s.PowerW, 1e-12));
    }

    [Fact]
    public void A_unit_that_nobody_knows_is_counted_and_not_passed_over()
    {
        string rows = string.Concat(Enumerable.Range(0, 60).Select(i => InvariantText.Of($"{i},4.5,{(i == 5 ? "furlong" : "W")}\n")));

        LogText.Read read = LogText.Of("time,value,unit\n" + rows);

        Assert.Equal((59, 1), (read.Outcome.Rows, read.Outcome.RowsSkipped));
    }

    [Fact]
    public void Quantities_may_be_told_by_their_units_alone()
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"{i},A,0.9\n{i},V,5.0\n")));

        LogText.Read read = LogText.Of("t,unit,value\n" + rows);

        Assert.Equal((20, 5.0, 0.9), (read.Samples.Count, read.Samples[7].VoltageV, read.Samples[7].CurrentA));
    }

    [Fact]
    public void Series_at_times_of_their_own_give_power_alone()
    {
        string rows = string.Concat(Enumerable.Range(0, 20)
            .Select(i => InvariantText.Of($"plug_power,4.{50 + i},{Stamp(2 * i)}\nplug_voltage,231.{i},{Stamp((2 * i) + 1)}\n")));

        LogText.Read read = LogText.Of("entity,state,last changed\n" + rows);

        Assert.Equal(20, read.Samples.Count);
        Assert.All(read.Samples, s => Assert.True(double.IsNaN(s.VoltageV)));
        Assert.Contains(read.Layout.Notes, n => n.Contains("Only \"plug_power\" was read", StringComparison.Ordinal));
    }

    [Fact]
    public void The_plainest_of_several_names_of_one_quantity_is_taken_and_told()
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"{i},power,4.5\n{i},power max,6.5\n")));

        LogText.Read read = LogText.Of("time,quantity,value\n" + rows);

        Assert.All(read.Samples, s => Assert.Equal(4.5, s.PowerW));
        Assert.Contains(read.Layout.Notes, n => n.Contains("not \"power max\"", StringComparison.Ordinal));
    }

    [Fact]
    public void Voltage_and_current_at_different_times_are_refused()
    {
        string rows =
            string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"voltage,{2 * i},5\ncurrent,{(2 * i) + 1},0.9\n")));

        Assert.Contains("rows of different times", Assert.Throws<InputException>(() => LogText.Of("name,time,value\n" + rows)).Message,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("time,power (W),status", "4.5,charging")]
    [InlineData("time,power (W),mode", "4.5,CC")]
    [InlineData("time,power (W),note", "4.5,ok")]
    public void A_column_of_texts_beside_power_names_no_series(string header, string rest)
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"{i},{(i < 10 ? rest : rest + "2")}\n")));

        LogText.Read read = LogText.Of(header + "\n" + rows);

        Assert.Null(read.Layout.TableForm);
        Assert.Equal(20, read.Samples.Count);
    }

    [Fact]
    public void A_date_and_a_clock_time_in_two_columns_stay_two()
    {
        string rows = string.Concat(Enumerable.Range(0, 20)
            .Select(i => InvariantText.Of($"07.05.2031;18:30:{i:00};Leistung;4,5;W\n07.05.2031;18:30:{i:00};Spannung;5,0;V\n")));

        LogText.Read read = LogText.Of("Datum;Uhrzeit;Messgröße;Wert;Einheit\n" + rows);

        Assert.Equal((20, 19.0, 4.5, 5.0), (read.Samples.Count, read.Samples[^1].TimeS, read.Samples[3].PowerW, read.Samples[3].VoltageV));
    }

    [Theory]
    [InlineData("unavailable")]
    [InlineData("unknown")]
    [InlineData("off-line")]
    [InlineData("nicht verfügbar")]
    [InlineData("hors ligne")]
    [InlineData("nedostupné")]
    public void A_word_for_an_absent_sensor_ends_a_held_value_and_silence_does_not(string word)
    {
        string log =
            $"sensor,value,time (s)\nplug power,4,0\nplug power,2,600\nplug power,{word},1200\nplug power,{word},1300\nplug "
            + "power,5,2400\nplug power,1,9600\n";

        LogText.Read read = LogText.Of(log, new LogOptions { Samples = SampleKind.OnChange });

        Assert.Equal([0.0, 600, 1200, 2400, 9600], read.Samples.Select(s => s.TimeS));
        Assert.Equal([4.0, 2, 2, 5, 1], read.Samples.Select(s => s.PowerW));
        Assert.Equal([false, false, false, true, false], read.Samples.Select(s => s.AfterAway));
        Assert.Contains(read.Outcome.Notes, n => n.StartsWith("2 rows say", StringComparison.Ordinal));
        Assert.Equal(0, read.Outcome.RowsSkipped);
    }

    // Whatever the word is: a row that holds no number says that the value does not go on.
    [Theory]
    [InlineData("timeout")]
    [InlineData("N/A")]
    [InlineData("null")]
    [InlineData("-")]
    [InlineData("žádná hodnota")]
    public void Any_word_in_place_of_a_held_value_ends_it(string word)
    {
        string rows = string.Concat(Enumerable.Range(0, 20).Select(i => InvariantText.Of($"{600 * i},{4 + (i % 3)}\n")));
        LogText.Read read = LogText.Of($"time (s),power (W)\n{rows}12000,{word}\n15000,5\n",
            new LogOptions { Samples = SampleKind.OnChange });

        Assert.Equal([11400.0, 12000, 15000], read.Samples.TakeLast(3).Select(s => s.TimeS));
        Assert.True(read.Samples[^1].AfterAway);
        Assert.Empty(read.Outcome.Faults);
    }

    private static string Stamp(int second) =>
        new DateTime(2031, 5, 7, 18, 30, 0).AddSeconds(second).ToString("yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture);
}
