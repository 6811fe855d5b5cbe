using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>A meter may print so many digits whatever the size of a reading: fewer decimal places in a charge than in the idle power before
/// it are no change of unit. A meter that prints to one place throughout shows one by its digits.</summary>
public sealed class DigitsOfASizeTests
{
    // Some of the readings' own noise, to the last of four digits.
    private static readonly double[] Noise = [0.4, -1, 0.2, 1.3, -0.6, -0.1, 0.9, -1.2, 0.1, 0.7, -0.8, 0.5, -0.3];

    private static double Noisy(double powerW, int t) => powerW * (1 + (0.002 * Noise[t % Noise.Length]));

    // Idle, and then a charge to the end of the log.
    private static double PowerW(int t, double idleW, double chargeW) =>
        t < 600 ? Noisy(idleW, t) : Noisy(chargeW * (1 + ((t - 600) / 400_000.0)), t);

    private static string BySize(double powerW, int digits) =>
        powerW.ToString("F" + Math.Max(0, digits - 1 - (int)Math.Floor(Math.Log10(powerW))), CultureInfo.InvariantCulture);

    private static string Text(Func<int, string> at) =>
        "time (s),power (W)\n" + string.Concat(Enumerable.Range(0, 2500).Select(t =>
            string.Create(CultureInfo.InvariantCulture, $"{t},{at(t)}\n")));

    [Theory]
    [InlineData(0.453, 4.72, 3)]
    [InlineData(0.453, 4.72, 4)]
    [InlineData(0.453, 4.31, 4)]
    [InlineData(0.0613, 5.71, 3)]
    [InlineData(0.0613, 6.62, 4)]
    [InlineData(1.21, 13.6, 4)]
    public void A_charge_of_ten_or_a_hundred_times_the_idle_power_is_none(double idleW, double chargeW, int digits)
    {
        var log = Measure(Text(t => BySize(PowerW(t, idleW, chargeW), digits)), MeasuringPoint.Wall);
        Assert.Equal(Enumerable.Range(0, 2499).Sum(t => 0.5 * (PowerW(t, idleW, chargeW) + PowerW(t + 1, idleW, chargeW))) / 3600,
            log.Energy.Value, 0.01);
    }

    // The idle power and the charge have three decimals, and then two; or the charge begins in hundredths of what it was.
    [Theory]
    [InlineData(1500, 10)]
    [InlineData(1500, 0.01)]
    [InlineData(700, 0.001)]
    public void Readings_of_one_size_or_several_tell_a_unit(int changesAt, double factor)
    {
        string format = factor > 1 ? "F2" : factor < 0.005 ? "F6" : "F5";
        string text = Text(t => t < changesAt
            ? PowerW(t, 0.213, 4.72).ToString("F3", CultureInfo.InvariantCulture)
            : (factor * Math.Round(PowerW(t, 0.213, t < 2300 ? 4.72 : 0.49), 3)).ToString(format, CultureInfo.InvariantCulture));
        var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Wall));
        Assert.StartsWith(InvariantText.Of($"log.csv, line {changesAt + 2}: power is"), refused.Message, StringComparison.Ordinal);
    }

    // In a hold at 80 %, whose readings hardly differ, soon after the charge and soon before it goes on.
    [Theory]
    [InlineData(1302, 10, "F2")]
    [InlineData(1302, 0.1, "F3")]
    [InlineData(1996, 0.1, "F3")]
    public void A_unit_that_changes_in_a_hold_is_told_by_readings_of_the_charge(int changesAt, double factor, string format)
    {
        string text = Text(t =>
        {
            double w = Math.Round(t < 600 ? 0.23 : t is >= 1300 and < 2000 ? 0.6 : t < 2300 ? Noisy(10.6, t)
                : 0.29 + (10.3 * Math.Exp((2300 - t) / 50.0)), 2);
            return (t < changesAt ? w : factor * w).ToString(t < changesAt ? "F2" : format, CultureInfo.InvariantCulture);
        });
        var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Wall));
        Assert.StartsWith(InvariantText.Of($"log.csv, line {changesAt + 2}: power is"), refused.Message, StringComparison.Ordinal);
    }

    // A hold at a tenth of the charge, to 1 %, by a load whose ripple is a share of it: voltage and current beside say the same.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Voltage_and_current_that_agree_deny_a_unit(bool agree)
    {
        double Power(int t) => (t < 600 ? 0.05 : t is >= 1200 and < 1800 ? 4.1 : 41.2) * (1 + (0.01 * Noise[t % Noise.Length]));
        string text = "time (s),voltage (V),current (A),power (W)\n" + string.Concat(Enumerable.Range(0, 2500).Select(t => string.Create(
            CultureInfo.InvariantCulture,
            $"{t},20.02,{Power(agree || t < 1800 ? t : 1700) / 20.02:F4},{Power(t):F2}\n")));
        if (agree)
        {
            Assert.NotEmpty(Measure(text, MeasuringPoint.Usb).Sessions);
        }
        else
        {
            Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Usb));
        }
    }

    // Where there is no column of power, its product with the voltage says nothing.
    [Fact]
    public void A_current_that_becomes_a_tenth_is_told()
    {
        string text = "time (s),voltage (V),current (A)\n" + string.Concat(Enumerable.Range(0, 2500).Select(t => string.Create(
            CultureInfo.InvariantCulture,
            $"{t},5.02,{Math.Round(t < 600 ? 0.05 : Noisy(2.4, t), 4) * (t < 1500 ? 1 : 0.1):F5}\n")));
        var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Usb));
        Assert.StartsWith("log.csv, line 1502: power is a tenth", refused.Message, StringComparison.Ordinal);
    }

    // A pad that waits: some of its pulses are ten times the power before and after them, to the third digit.
    [Fact]
    public void Pulses_of_ten_times_the_idle_power_are_no_unit()
    {
        double[] idle = [0.104, 0.109, 0.106, 0.107, 0.108, 0.109, 0.105], pulse = [1.088, 1.09, 1.091, 1.087, 1.09];
        string text = Text(t => (t is >= 800 and < 2000 ? Noisy(5.8, t) : t % 12 < 5 ? pulse[t % 12] : idle[(t % 12) - 5])
            .ToString("F3", CultureInfo.InvariantCulture));
        Assert.NotEmpty(Measure(text, MeasuringPoint.Wall).Sessions);
    }

    // A fall that goes on in hundredths, 6 % off a hundredth at its first row; and a charge that ends in as small a level.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_fall_that_goes_on_in_hundredths_is_told(bool goesOn)
    {
        string text = Text(t => !goesOn ? BySize(t < 1500 ? PowerW(t, 0.213, 7.21) : Noisy(0.0765, t), 4)
            : t < 1500 ? PowerW(t, 7.21, 7.21).ToString("F3", CultureInfo.InvariantCulture)
            : (0.01 * Math.Round(7.65 * Math.Exp((1500 - t) / 250.0), 3)).ToString("F5", CultureInfo.InvariantCulture));
        if (goesOn)
        {
            var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Wall));
            Assert.StartsWith("log.csv, line 1502: power is a hundredth", refused.Message, StringComparison.Ordinal);
        }
        else
        {
            Assert.NotEmpty(Measure(text, MeasuringPoint.Wall).Sessions);
        }
    }

    // Two digits are too few for a meter that prints by size.
    [Fact]
    public void A_coarse_meter_of_few_rows_tells_a_unit()
    {
        double[] watts = [0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 4.6, 4.6, 4.7, 4.8, 4.8, 4.9, 3.6, 3.6, 3.7, 3.8, 2.4, 1.3, 0.7, 0.4, 0.3, 0.4];
        string text = "time (s),power (W)\n" + string.Concat(watts.Select((w, i) => string.Create(
            CultureInfo.InvariantCulture, $"{600 * i},{w * (i < 11 ? 1 : 0.001):F4}\n")));
        var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Wall));
        Assert.StartsWith("log.csv, line 13: power is a thousandth of", refused.Message, StringComparison.Ordinal);
    }

    // A charge of 4.2 W that rises to 4.3 W, at a hundredfold for a while whose first reading is another load's.
    [Theory]
    [InlineData(2.0, true)]
    [InlineData(4.2, true)]
    [InlineData(2.0, false)]
    public void A_hundredfold_for_a_while_is_told_though_the_load_steps_with_it(double firstW, bool changes)
    {
        string text = Text(t => ((t is >= 1200 and < 1800 && changes ? 100 : 1)
            * Math.Round(t < 600 ? 0.1 : t is >= 1200 and < 1210 ? firstW : 4.2 + (0.05 * Noise[t % Noise.Length]), 1))
            .ToString("F1", CultureInfo.InvariantCulture));
        if (changes)
        {
            var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Wall));
            Assert.StartsWith("log.csv, line 1202: power is a hundred times", refused.Message, StringComparison.Ordinal);
        }
        else
        {
            Assert.NotEmpty(Measure(text, MeasuringPoint.Wall).Sessions);
        }
    }

    // Between whole watts and hundredths, in a pause.
    [Fact]
    public void A_hundredfold_of_a_pause_is_told_by_readings_of_the_charge()
    {
        string text = Text(t => t is >= 1200 and < 1800
            ? (100 * Math.Round(0.36 + (0.01 * Noise[t % Noise.Length]), 2)).ToString("F1", CultureInfo.InvariantCulture)
            : (t < 600 ? 0.09 + (0.01 * Noise[t % Noise.Length]) : t is >= 1100 and < 1900 ? 0.36 + (0.01 * Noise[t % Noise.Length])
                : Noisy(11.7, t)).ToString("F2", CultureInfo.InvariantCulture));
        var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Wall));
        Assert.StartsWith("log.csv, line 1202: power is a hundred times", refused.Message, StringComparison.Ordinal);
    }
}
