using ChargeAudit.Measuring.Integration;
using static ChargeAudit.Tests.Measuring.Integration.CounterSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>A counter with a fixed number of digits loses a decimal where it grows; from there on its step is ten times coarser.</summary>
public sealed class CounterDigitsTests
{
    private const double UnitJ = 3600;

    // 6 W for four hours, a row a minute: 0.1 Wh a row, with what the meter shows.
    private static LogSummary Of(double fromWh, Func<double, double> stepWh, bool rounds = false, params int[] cuts)
    {
        var readings = Enumerable.Range(0, 241).Select(i => fromWh + (0.1 * i)).Select(wh =>
            Math.Floor((wh / stepWh(wh)) + (rounds ? 0.5 : 1e-9)) * stepWh(wh) * UnitJ);
        var rows = Rows(readings, 60).ToList();
        var rules = CounterOnly(60) with { CounterUnitJ = UnitJ };
        return cuts.Length > 0 ? InPieces(rows, rules, cuts) : Finished(rows, rules);
    }

    private static double FourDigits(double wh) => wh < 10 ? 0.001 : wh < 100 ? 0.01 : 0.1;

    private static double ThreeDigits(double wh) => wh < 10 ? 0.01 : wh < 100 ? 0.1 : 1;

    [Theory]
    [InlineData(91.237, 0.1)]
    [InlineData(2.237, 0.01)]
    public void Four_digits_have_the_step_of_the_largest_readings(double fromWh, double stepWh)
    {
        var summary = Of(fromWh, FourDigits);
        Assert.Equal(stepWh * UnitJ, summary.CounterStepJ, 1e-6);
        Assert.Equal(24 * UnitJ, summary.CounterEnergyJ!.Value, stepWh * UnitJ);
        Assert.False(double.IsNaN(summary.CounterCoarsensAtS));
    }

    // 98.63 Wh and 24 more: 99.9, then 100 to 122, of which the last is 122.63; rounded it shows as 123.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Cut_down_or_rounded_the_energy_lies_within_a_step_and_a_quarter(bool rounds)
    {
        for (double fromWh = 98.03; fromWh < 99; fromWh += 0.13)
        {
            var summary = Of(fromWh, ThreeDigits, rounds);
            Assert.Equal(UnitJ, summary.CounterStepJ, 1e-6);
            Assert.InRange(summary.CounterEnergyJ!.Value / UnitJ, 24 - 1.3, 24 + 1.3);
        }
    }

    [Fact]
    public void Decimals_that_end_anywhere_are_found_by_four_readings_without()
    {
        var summary = Of(9.437, wh => wh < 25 ? 0.01 : 0.1);
        Assert.Equal(0.1 * UnitJ, summary.CounterStepJ, 1e-6);
    }

    // 9.92, 9.93 … 10.00 with 0.01 a row of 6 minutes, and then the device takes nothing.
    [Theory]
    [InlineData(1, 0.01)]
    [InlineData(12, 0.1)]
    public void The_power_of_ten_itself_is_a_reading_as_any_other_unless_it_stays(int rows, double stepWh)
    {
        var readings = Enumerable.Range(992, 9).Concat(Enumerable.Repeat(1000, rows)).Select(w => w * 0.01 * UnitJ);
        var summary = Finished(Rows(readings, 360), CounterOnly(360) with { CounterUnitJ = UnitJ });
        Assert.Equal(stepWh * UnitJ, summary.CounterStepJ, 1e-6);
    }

    [Theory]
    [InlineData(91.237)]
    [InlineData(0)]
    public void One_number_of_decimals_is_one_step(double fromWh)
    {
        var summary = Of(fromWh, _ => 0.001);
        Assert.Equal(0.1, summary.CounterStepJ / UnitJ, fromWh == 0 ? 1e-6 : 0.1);
        Assert.True(double.IsNaN(summary.CounterCoarsensAtS));
        Assert.Equal(24 * UnitJ, summary.CounterEnergyJ!.Value, 0.002 * UnitJ);
    }

    [Fact]
    public void Cuts_change_nothing()
    {
        var whole = Of(91.237, FourDigits);
        foreach (int cut in new[] { 1, 30, 87, 88, 89, 200 })
        {
            var pieces = Of(91.237, FourDigits, false, cut, 210);
            Assert.Equal((whole.EnergyJ.Value, whole.CounterStepJ, whole.CounterCoarsensAtS),
                (pieces.EnergyJ.Value, pieces.CounterStepJ, pieces.CounterCoarsensAtS));
            Assert.Equal(whole.Counted, pieces.Counted);
        }
    }
}
