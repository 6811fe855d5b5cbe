using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Logs that show one, two or three values only. Expected values by hand.</summary>
public class FewValuesTests
{
    // Nothing, an hour of one power from 600 s on, nothing: two values are a whole step apart whatever they are, and yet two levels.
    [Theory]
    [InlineData(2, "10")]
    [InlineData(5, "10")]
    [InlineData(10, "10")]
    [InlineData(15, "10")]
    [InlineData(30, "10")]
    [InlineData(60, "10")]
    [InlineData(10, "5")]
    [InlineData(10, "10.0")]
    [InlineData(15, "7.55")]
    public void A_charge_of_one_power_is_found_in_two_values(int intervalS, string value)
    {
        double power = double.Parse(value, CultureInfo.InvariantCulture);
        var log = Measure(Rows(7200, intervalS, t => t >= 600 && t < 4200 ? value : "0"), "1 %");
        var charge = Assert.Single(log.Result.Modes, m => m.Span.Mode == Mode.Charge);
        Assert.InRange(charge.Span.StartS, 600 - intervalS, 600 + intervalS);
        Assert.InRange(charge.Span.EndS, 4200 - intervalS, 4200 + intervalS);
        Assert.InRange(charge.Energy.Value, power * (1 - (intervalS / 3600.0)), power * (1 + (intervalS / 3600.0)));
    }

    // Likewise with a third value: half a watt of waiting before and after.
    [Theory]
    [InlineData(1)]
    [InlineData(10)]
    [InlineData(30)]
    public void A_third_value_is_the_waiting(int intervalS)
    {
        var log = Measure(Rows(9000, intervalS, t => t is >= 1200 and < 4800 ? "8.0" : t < 6000 ? "0.5" : "0.0"), "1 %");
        var charge = Assert.Single(log.Result.Modes, m => m.Span.Mode == Mode.Charge);
        Assert.InRange(charge.Energy.Value, 8 * (1 - (intervalS / 3600.0)), 8 * (1 + (intervalS / 3600.0)));
    }

    // 0.24 W with pulses of 2.13 W in one second of ten: mean (9·0.24 + 2.13)/10 = 0.429 W. The digits printed tell the step, not how far
    // the two values lie apart.
    [Fact]
    public void Two_values_far_apart_are_no_lattice()
    {
        var log = Measure(Rows(3600, 1, t => t % 10 == 0 ? "2.13" : "0.24"), "1 %");
        var mean = log.Result.Modes.Single().MeanPower.Value!;
        Assert.InRange(mean.Value, 0.42, 0.44);
        Assert.True(HalfWidth(mean) < 0.05, mean.ToString());
    }

    // What is printed is rounded to the nearest step or cut down to it: 0.2 is anything from 0.15 to 0.3 W, 0 with a stated watt anything
    // up to one.
    [Theory]
    [InlineData("0.2", "1 %", 0.15, 0.295)]
    [InlineData("0", "1 % resolution 1 W", 0, 0.95)]
    [InlineData("0", "1 %", 0, 0.95)]
    [InlineData("0.00", "1 % resolution 1 W", 0, 0.95)]
    public void A_single_value_is_known_to_its_step(string value, string accuracy, double fromW, double toW)
    {
        var mean = Measure(Rows(3600, 1, _ => value), accuracy).Result.MeanPower;
        var interval = mean.Interval()!.Value;
        Assert.True(interval.Low <= fromW + 1e-3 && interval.High >= toW - 1e-3, mean.ToString());
    }

    private static string Rows(int lengthS, int intervalS, Func<int, string> value)
    {
        var text = new StringBuilder("time (s),power (W)\n");
        for (int t = 0; t < lengthS; t += intervalS)
        {
            text.Append(CultureInfo.InvariantCulture, $"{t},{value(t)}\n");
        }

        return text.ToString();
    }

    private static MeasuredLog Measure(string text, string accuracy) => LogMeasurer.Measure(new MeasureRequest
    {
        Content = new MemoryStream(Encoding.UTF8.GetBytes(text)),
        Paths = ["few.csv"],
        Point = MeasuringPoint.Wall,
        Meter = new Meter { Name = "plug", Accuracy = DataSheet.Of((LogQuantity.Power, accuracy)) },
    });

    private static double HalfWidth(Measured measured) => measured.Interval() is { } interval
        ? 0.5 * (interval.High - interval.Low)
        : double.NaN;
}
