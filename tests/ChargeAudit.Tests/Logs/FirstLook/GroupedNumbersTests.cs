using ChargeAudit.Metrology;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.FirstLook;

/// <summary>A sign before three digits: decimals, or thousands. What decides is which of both can be true.</summary>
public sealed class GroupedNumbersTests
{
    private const int Rows = 30;

    // A format without trailing zeros does not drop three of them at once, and a format with them drops none: 310 beside 8.700 is 8700.
    [Theory]
    [InlineData(';', "8.7{0:00}")]
    [InlineData('\t', "8.7{0:00}")]
    [InlineData(',', "\"8,7{0:00}\"")]
    public void Whole_numbers_beside_them_group_thousands(char separator, string thousands)
    {
        LogText.Read read = LogText.Of(Log($"time (s){separator}P (mW)", separator,
            i => i % 2 == 0 ? InvariantText.Of($"{300 + i}") : string.Format(null, thousands, i)));

        Assert.Equal([0.3, 8.701, 0.302, 8.703], read.Samples.Take(4).Select(s => s.PowerW));
        Assert.Contains(
            read.Layout.Ambiguities,
            a => a.Contains("grouping thousands: other numbers of its column are whole", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("time (s);U (mV);I (mA)", "5.0{0:00};1.5{0:00}")]
    [InlineData("time (s);U (mV);I (mA)", "5,0{0:00};1,5{0:00}")]
    public void No_supply_has_five_millivolts(string header, string row)
    {
        LogText.Read read = LogText.Of(Log(header, ';', i => string.Format(null, row, i)));

        Assert.Equal(5.003, read.Samples[3].VoltageV);
        Assert.Equal(1.503, read.Samples[3].CurrentA, 12);
    }

    [Fact]
    public void Quoted_commas_between_commas_group_thousands_where_decimals_make_next_to_nothing()
    {
        Assert.Equal(7.503, LogText.Of(Log("time (s),P (mW)", ',', i => InvariantText.Of($"\"7,5{i:00}\""))).Samples[3].PowerW);
        Assert.Equal(
            13_003 * 3600.0,
            LogText.Of(Log("time (s),counter (Wh)", ',', i => InvariantText.Of($"\"13,0{i:00}\""))).Samples[3].EnergyCounterJ);
    }

    [Theory]
    [InlineData("P (mW)", "7.5{0:00}", "at most 7.529 mW")]
    [InlineData("I (mA);U (V)", "7.5{0:00};5", "at most 7.529 mA")]
    [InlineData("counter (Wh)", "12.9{0:00}", "an advance of 0.029 Wh")]
    [InlineData("counter (mWh)", "7.5{0:00}", "an advance of 0.029 mWh")]
    public void What_may_be_either_is_doubted(string columns, string values, string few)
    {
        LogText.Read read = LogText.Of(Log("time (s);" + columns, ';', i => string.Format(null, values, i)));

        Assert.Contains(
            read.Layout.Ambiguities,
            a => a.Contains(few, StringComparison.Ordinal) && a.Contains("groups thousands", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("P (W)", "8.6{0:00}")]
    [InlineData("U (V);I (A)", "5.0{0:00};1.5{0:00}")]
    [InlineData("U (V);I (mA)", "5.01;1.5{0:00}")]
    [InlineData("counter (kWh)", "12.9{0:00}")]
    [InlineData("P (mW)", "108.6{0:00}")]
    public void Decimals_that_a_charge_may_have_are_decimals(string columns, string values)
    {
        LogText.Read read = LogText.Of(Log("time (s);" + columns, ';', i => string.Format(null, values, i)));

        Assert.DoesNotContain(read.Layout.Ambiguities, a => a.Contains("thousands", StringComparison.Ordinal));
    }

    private static string Log(string header, char separator, Func<int, string> row) =>
        header + "\n" + string.Concat(Enumerable.Range(0, Rows).Select(i => InvariantText.Of($"{i}{separator}{row(i)}\n")));
}
