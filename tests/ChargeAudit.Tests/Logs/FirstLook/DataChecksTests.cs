using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.FirstLook;

/// <summary>What the data say about the header.</summary>
public sealed class DataChecksTests
{
    [Fact]
    public void Voltage_and_current_without_a_unit_are_scaled_by_their_size()
    {
        LogText.Read read = LogText.Of("t (s),voltage,current\n" + Rows(20, i => $"{i},{5000 + i},{900 + i}"));

        Assert.Equal(5.0, read.Samples[0].VoltageV, 1e-12);
        Assert.Equal(0.9, read.Samples[0].CurrentA, 1e-12);
        Assert.Equal(2, read.Layout.Notes.Count);
        Assert.Equal("mV", read.Layout.Columns[1].Unit);
        Assert.Throws<InputException>(() =>
            LogText.Of("t (s),voltage,current\n" + Rows(20, i => $"{i},{5000 + i},{900 + i}"), new LogOptions { Strict = true }));
    }

    [Fact]
    public void A_named_unit_is_never_changed()
    {
        LogText.Read read = LogText.Of("t (s),voltage (V),current (A)\n" + Rows(20, i => $"{i},{5000 + i},{900 + i}"));

        Assert.Equal(5000, read.Samples[0].VoltageV);
    }

    [Fact]
    public void Power_without_a_unit_is_scaled_by_voltage_times_current()
    {
        LogText.Read read = LogText.Of("t (s),U (V),I (A),power\n" + Rows(20, i => $"{i},5,1,5000"));

        Assert.Equal(5, read.Samples[0].PowerW, 1e-12);
        Assert.Contains(read.Layout.Notes,
            n => n.Contains("mW was taken, as its values are 1000 times voltage × current", StringComparison.Ordinal));
    }

    [Fact]
    public void Power_that_is_not_voltage_times_current_is_doubted()
    {
        LogText.Read read = LogText.Of("t (s),U (V),I (A),P (W)\n" + Rows(20, i => $"{i},5,1,10"));

        Assert.Contains(read.Layout.Notes, n => n.Contains("\"P (W)\" is about 2 times voltage × current", StringComparison.Ordinal));
    }

    [Fact]
    public void On_the_mains_real_power_may_be_less_than_volts_times_amperes()
    {
        LogText.Read read = LogText.Of("t (s),U (V),I (A),P (W)\n" + Rows(20, i => $"{i},230,0.1,10"), new LogOptions
        {
            Point = MeasuringPoint.Wall,
        });

        Assert.Empty(read.Layout.Notes);
    }

    [Theory]
    [InlineData("energy", 1.0, "mWh")]
    [InlineData("energy", 1e-6, "kWh")]
    [InlineData("energy", 3.6, "J")]
    public void A_counter_without_a_unit_is_scaled_by_the_power_beside_it(string header, double perMilliwattHour, string unit)
    {
        // 7.2 W is 2 mWh a second.
        LogText.Read read =
            LogText.Of($"t (s),P (W),{header}\n" + Rows(50, i => InvariantText.Of($"{i},7.2,{i * 2 * perMilliwattHour:0.#########}")));

        Assert.Equal(unit, read.Layout.Columns[2].Unit);
        Assert.Equal(49 * 7.2, read.Samples[^1].EnergyCounterJ, 1e-6);
    }

    [Fact]
    public void A_column_that_goes_up_and_down_is_no_counter()
    {
        LogText.Read read = LogText.Of("t (s),P (W),energy (Wh)\n" + Rows(50, i => $"{i},7.2,{(i % 2 == 0 ? 2 : 3)}"));

        Assert.False(read.Layout.Has(LogQuantity.Energy));
        Assert.Contains(read.Layout.Notes, n => n.Contains("goes up and down as no counter of energy does", StringComparison.Ordinal));
    }

    [Fact]
    public void A_counter_may_be_reset()
    {
        LogText.Read read = LogText.Of("t (s),P (W),energy (mWh)\n" + Rows(50, i => $"{i},7.2,{2 * (i % 25)}"));

        Assert.True(read.Layout.Has(LogQuantity.Energy));
    }

    [Fact]
    public void A_log_of_nothing_but_a_counter_is_usable()
    {
        LogText.Read read = LogText.Of("time,kWh\n2031-05-07 18:30:00,12.01\n2031-05-07 18:35:00,12.02\n2031-05-07 18:40:00,12.04\n");

        Assert.Equal(12.04 * 3.6e6, read.Samples[^1].EnergyCounterJ, 1e-3);
        Assert.Equal(0.01 * 3.6e6, read.Layout.Resolution[LogQuantity.Energy], 1);
    }

    private static string Rows(int count, Func<int, string> row) => string.Concat(Enumerable.Range(0, count).Select(i => row(i) + "\n"));
}
