using ChargeAudit.Logs.FirstLook;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Cleaning;

public class PrintedStepTests
{
    [Theory]
    [InlineData("0", 1)]
    [InlineData("230", 1)]
    [InlineData("0.2", 0.1)]
    [InlineData("-0.20", 0.01)]
    [InlineData("5.000000", 1e-6)]
    [InlineData("1.5e-3", 1e-4)]
    [InlineData("2E2", 100)]
    [InlineData("5.02 V", 0.01)]
    public void One_in_the_last_printed_place(string text, double expected) =>
        Assert.Equal(expected, PrintedStep.Of(text, new NumberStyle((byte)'.', 0)), 1e-15);

    [Fact]
    public void Groups_of_thousands_are_no_decimals() =>
        Assert.Equal(0.1, PrintedStep.Of("1.234,5", new NumberStyle((byte)',', (byte)'.')), 1e-15);

    [Fact]
    public void No_digits_no_step() => Assert.Equal(double.NaN, PrintedStep.Of("nan", new NumberStyle((byte)'.', 0)));

    // A column that holds a single value all along still moves by its last printed place.
    [Theory]
    [InlineData("power (W)", "0.2", 0.1)]
    [InlineData("power (W)", "0.20", 0.01)]
    [InlineData("power (W)", "0", 1)]
    [InlineData("power (mW)", "240", 0.001)]
    public void A_constant_column_steps_by_at_least_its_last_place(string header, string value, double expectedW)
    {
        var layout = LogText.Of($"time (s),{header}\n" + string.Concat(Enumerable.Range(0, 30).Select(i => $"{i},{value}\n"))).Layout;
        Assert.Equal(expectedW, layout.Resolution[LogQuantity.Power], 1e-12);
    }

    // 0.24 W with pulses of 2.13 W gave steps of 1.89 W.
    [Fact]
    public void Pulses_between_two_values_leave_the_printed_places()
    {
        var layout = LogText.Of("time (s),power (W)\n"
            + string.Concat(Enumerable.Range(0, 60).Select(i => $"{i},{(i % 7 == 0 ? "2.13" : "0.24")}\n"))).Layout;
        Assert.Equal(0.01, layout.Resolution[LogQuantity.Power], 1e-12);
    }

    // The product of 5.1 V and 0.1 A steps prints three decimals, and moves by half a watt.
    [Fact]
    public void A_product_of_printed_readings_is_known_for_one()
    {
        string rows =
            string.Concat(Enumerable.Range(0, 30)
            .Select(i =>
            InvariantText.Of($"{i},{5 + (0.1 * (i % 3)):F1},{0.1 * (i % 9):F1},{(5 + (0.1 * (i % 3))) * 0.1 * (i % 9):F3}\n")));
        Assert.True(LogText.Of("time (s),voltage (V),current (A),power (W)\n" + rows).Layout.PowerIsProduct);
    }

    [Fact]
    public void A_power_column_of_its_own_is_no_product()
    {
        string rows = string.Concat(Enumerable.Range(0, 30)
            .Select(i => InvariantText.Of($"{i},5.0,{0.1 * (1 + (i % 9)):F1},{0.517 * (1 + (i % 9)):F3}\n")));
        Assert.False(LogText.Of("time (s),voltage (V),current (A),power (W)\n" + rows).Layout.PowerIsProduct);
    }
}
