using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>
/// Devices that are used while they charge: something of one size is switched on and off, and power comes back again and again while the
/// battery's part falls. Energies by closed form.
/// </summary>
public sealed class SwitchedLoadTests
{
    private const double WaitingS = 600;
    private const double HighS = 3000;
    private const double FullS = 2400;

    // On from the first of each pair to the second, counted from the start of the charge. [s]
    private static readonly double[] Used =
        [200, 700, 1500, 1640, 2300, 2900, 3150, 3260, 3420, 3900, 4040, 4420, 4505, 4560, 4640, 5150, 5230, 5290];

    [Theory]
    [InlineData(5, 1300, 0.2, 0.54, 0.8, "inst", 30)]
    [InlineData(5, 1300, 0.2, 0.54, 0.8, "inst", 5)]
    [InlineData(8, 1500, 0.22, 0.6, 0.8, "inst", 60)]
    [InlineData(8, 1400, 0.2, 0.7, 1.5, "mean", 10)]
    [InlineData(5, 1300, 0.22, 0.5, 0.6, "mean", 60)]
    [InlineData(5, 1300, 0.25, 0.75, 0.8, "change", 0.3)]
    [InlineData(8, 1400, 0.2, 0.6, 0.8, "change", 0.3)]
    [InlineData(8, 1300, 0.22, 0.55, 0.8, "change", 0.2)]
    public void A_charge_goes_on_while_its_part_falls_though_a_load_is_switched_on_and_off(
        double highW, double fallS, double lastShare, double fullW, double usedW, string kind, double each)
    {
        double tailS = fallS * Math.Log(1 / lastShare);
        double endS = WaitingS + HighS + tailS;
        double usedS = 0;
        for (int i = 0; i < Used.Length; i += 2)
        {
            usedS += Math.Max(0, Math.Min(Used[i + 1], HighS + tailS) - Math.Min(Used[i], HighS + tailS));
        }

        double trueWh = ((highW * HighS) + (highW * (1 - lastShare) * fallS) + (usedW * usedS)) / 3600;
        double Power(double t) => t < WaitingS ? 0.1
            : t < endS ? (highW * Math.Exp(-Math.Max(0, t - WaitingS - HighS) / fallS)) + (IsUsed(t - WaitingS) ? usedW : 0)
            : fullW;
        var log = Written(Power, endS + FullS, kind, each);
        var charge = Assert.Single(log.Sessions);
        var interval = charge.Energy.Interval()!.Value;
        Assert.InRange(trueWh, interval.Low, interval.High);
        Assert.InRange(charge.EndS, endS - (0.15 * tailS), endS + (0.15 * tailS));
    }

    [Theory]
    [InlineData("inst", 5)]
    [InlineData("inst", 30)]
    [InlineData("mean", 10)]
    public void A_full_device_that_is_used_is_no_charge_that_goes_on(string kind, double each)
    {
        double endS = WaitingS + HighS + (900 * Math.Log(5));
        double Power(double t) => t < WaitingS ? 0.1
            : t < endS ? 8 * Math.Exp(-Math.Max(0, t - WaitingS - HighS) / 900)
            : 0.6 + ((t - endS) % 700 is > 200 and < 420 ? 0.8 : 0);
        var log = Written(Power, endS + 7000, kind, each);
        var charge = Assert.Single(log.Sessions);
        Assert.InRange(charge.EndS, endS - 300, endS + 300);
    }

    private static bool IsUsed(double chargedS)
    {
        int at = Array.FindIndex(Used, s => s > chargedS);
        return at > 0 && at % 2 == 1;
    }

    // Readings to the milliwatt: instants, means over the time before the stamp, or what has changed by the threshold at a look every 2 s,
    // and the last look.
    private static LogMeasurement Written(Func<double, double> power, double untilS, string kind, double each)
    {
        var text = new StringBuilder("time_s,power_W\n");
        double written = double.NaN;
        for (double t = kind == "mean" ? each : 0; t < untilS; t += kind == "change" ? 2 : each)
        {
            double read = kind == "mean"
                ? Enumerable.Range(0, (int)each).Average(s => power(t - each + s + 0.5))
                : power(t);
            if (kind != "change" || !(Math.Abs(read - written) < each) || t + 2 >= untilS)
            {
                text.Append(CultureInfo.InvariantCulture, $"{t:0},{read:0.###}\n");
                written = read;
            }
        }

        var samples = kind switch
        {
            "inst" => SampleKind.Instantaneous,
            "mean" => SampleKind.AverageEnding,
            _ => SampleKind.OnChange,
        };
        return WrittenLog.Measure(text.ToString(), new LogOptions { Point = MeasuringPoint.Wall, Samples = samples }, "1 % + 20 mW").Result;
    }
}
