using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>
/// Charges whose fall is read in coarse steps or by few rows, so that its last part looks like a level of its own; energies by closed form.
/// </summary>
public sealed class CoarseFallsTests
{
    private const double WaitingS = 600;
    private const double HighS = 3600;

    // A fall by e every T from the high power to the lowest takes T ln(high / lowest) and gives (high - lowest) T.
    [Theory]
    [InlineData(8, 1.2, 0.67, 1173, 1, false, 5)]
    [InlineData(8, 1.6, 0.93, 1173, 1, true, 5)]
    [InlineData(12, 1.8, 0.86, 1239, 1, false, 1)]
    [InlineData(18, 2.5, 0.8, 1414, 1, true, 5)]
    [InlineData(5, 0.8, 0.44, 1366, 1, false, 2)]
    [InlineData(5, 0.95, 0.5, 1390, 0.5, false, 10)]
    [InlineData(10, 1.3, 0.75, 900, 1, true, 30)]
    [InlineData(5, 1.0, 0.5, 1200, 0.1, false, 60)]
    public void The_interval_holds_a_charge_whose_end_is_hidden_in_a_step_of_the_readings(
        double highW, double lowestW, double fullW, double fallS, double stepW, bool cutsDown, double intervalS)
    {
        double trueWh = ((highW * HighS) + ((highW - lowestW) * fallS)) / 3600;
        double endS = WaitingS + HighS + (fallS * Math.Log(highW / lowestW));
        double Power(double t) => t < WaitingS || t > endS + 1800 ? 0.2
            : t < WaitingS + HighS ? highW
            : t < endS ? highW * Math.Exp(-(t - WaitingS - HighS) / fallS) : fullW;
        var log = Written(Power, endS + 2400, stepW, cutsDown, intervalS);
        var charge = Assert.Single(log.Sessions);
        var interval = charge.Energy.Interval()!.Value;
        Assert.InRange(trueWh, interval.Low, interval.High);
        var kept = log.Modes.Where(m => m.Span.Mode == Mode.Maintenance && m.MeanPower.Value is not null).ToList();
        Assert.All(kept,
            m => Assert.True(m.MeanPower.Value!.Value < fullW + stepW, $"a full device is said to draw {m.MeanPower.Value.Value} W"));
    }

    // What follows a charge at another level than the waiting charger's is not the waiting charger.
    [Theory]
    [InlineData(0.05, 0.5)]
    [InlineData(0.2, 0.7)]
    public void A_level_that_is_not_the_waiting_chargers_is_the_full_devices(double waitingW, double fullW)
    {
        double Power(double t) => t < 600 ? waitingW : t < 4200 ? 10 : t < 5400 ? 10 * Math.Exp(-(t - 4200) / 700) : t < 5700
            ? 1.75
            : fullW;
        var log = Written(Power, 7500, 0.01, false, 5);
        Assert.All(log.Modes.Skip(1), m => Assert.NotEqual(Mode.NoLoad, m.Span.Mode));
        Assert.Equal(fullW, log.Modes[^1].MeanPower.Value!.Value, 0.02);
    }

    // Where the log shows what the charger draws alone, coming down to that level is the removal, and the level before it the full device.
    [Fact]
    public void A_full_device_that_is_taken_off_keeps_its_level()
    {
        double Power(double t) => t < 600 ? 0.2 : t < 4200 ? 10 : t < 5400 ? 10 * Math.Exp(-(t - 4200) / 700) : t < 7200 ? 0.7 : 0.2;
        var log = Written(Power, 9000, 0.01, false, 5);
        Assert.Equal([Mode.NoLoad, Mode.Charge, Mode.Maintenance, Mode.NoLoad], log.Modes.Select(m => m.Span.Mode));
        Assert.Equal(0.7, log.Modes[2].MeanPower.Value!.Value, 0.02);
        Assert.Equal(0.2, log.Modes[3].MeanPower.Value!.Value, 0.02);
    }

    private static LogMeasurement Written(Func<double, double> power, double untilS, double stepW, bool cutsDown, double intervalS)
    {
        var text = new StringBuilder("time_s,power_W\n");
        for (double t = 0; t < untilS; t += intervalS)
        {
            double read = power(t) / stepW;
            read = stepW * (cutsDown ? Math.Floor(read + 1e-9) : Math.Round(read));
            text.Append(CultureInfo.InvariantCulture, $"{t:0.##},{read:0.##}\n");
        }

        return WrittenLog.Measure(text.ToString(), new LogOptions { Point = MeasuringPoint.Wall, Samples = SampleKind.Instantaneous },
            "1 % + 20 mW").Result;
    }
}
