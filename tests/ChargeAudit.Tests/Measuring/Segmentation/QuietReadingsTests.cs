using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Readings that scatter by a tenth of a milliwatt show every turn of the power as a stretch of its own, none of them long.</summary>
public sealed class QuietReadingsTests
{
    private const int StepS = 3;
    private const int ChargeFromS = 96;
    private const int FallFromS = 1900;
    private const int FullFromS = 3330;

    [Theory]
    [InlineData("wave", 25, 0.1)]
    [InlineData("wave", 60, 0.1)]
    [InlineData("two levels", 90, 0.2)]
    [InlineData("three levels", 60, 0.15)]
    [InlineData("three levels", 100, 0.1)]
    public void A_charge_is_found_where_no_level_below_it_stays_the_same_for_long(string shape, int everyS, double amplitudeW)
    {
        double FullW(int t) => 0.386 + (amplitudeW * shape switch
        {
            "wave" => Math.Sin(t / (double)everyS),
            "two levels" => t / everyS % 2,
            _ => t / everyS % 3,
        });
        double PowerW(int t) => t switch
        {
            < ChargeFromS => 0,
            < FallFromS => 5 + (0.3 * (t - ChargeFromS) / (FallFromS - ChargeFromS)),
            < FullFromS => Math.Max(0.7, 5.3 * Math.Exp(-(t - FallFromS) / 700.0)),
            _ => FullW(t),
        };
        int[] times = [.. Enumerable.Range(0, 1700).Select(i => StepS * i)];
        double chargeWh = times.Where(t => t is >= ChargeFromS and < FullFromS).Sum(t => PowerW(t) * StepS / 3600);

        string text = TextLog.Of("time (s),power (W)", times, ("F4", t => PowerW(t) + (0.0001 * ((t / StepS * 7919 % 13) - 6) / 6)));
        var log = TextLog.Measure(text, MeasuringPoint.Usb);

        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
        Assert.Equal(chargeWh, charge.Energy.Value, 0.01 * chargeWh);
        Assert.InRange(charge.Span.StartS, ChargeFromS - (2 * StepS), ChargeFromS + (2 * StepS));
        Assert.Equal(Mode.Maintenance, log.Modes[^1].Span.Mode);
    }
}
