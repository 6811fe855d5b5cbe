using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Tests.Studies.Drafting;

public sealed class PointGuessTests
{
    [Theory]
    [InlineData(230, "a.csv", MeasuringPoint.Wall, 0)]
    [InlineData(115, "mains.csv", MeasuringPoint.Wall, 0)]
    [InlineData(230, "usb.csv", MeasuringPoint.Wall, 1)]
    [InlineData(5.1, "a.csv", MeasuringPoint.Usb, 0)]
    [InlineData(20, "usb.csv", MeasuringPoint.Usb, 0)]
    [InlineData(5.1, "wall.csv", MeasuringPoint.Usb, 1)]
    [InlineData(5.0, "device.csv", MeasuringPoint.Device, 0)]
    [InlineData(3.9, "battery.csv", MeasuringPoint.Battery, 0)]
    public void The_voltage_goes_before_the_name_and_a_contradiction_is_asked(double volts, string file, MeasuringPoint point,
        int questions)
    {
        var guess = PointGuess.Of(Invented.Usb(file, 10) with { MeanVoltageV = volts }, NameWords.Of(file));
        Assert.Equal(point, guess.Point);
        Assert.Equal(questions, guess.Remarks.Count(r => r.Kind == RemarkKind.Question));
    }

    [Theory]
    [InlineData(LogQuantity.PowerFactor)]
    [InlineData(LogQuantity.ApparentPower)]
    [InlineData(LogQuantity.Frequency)]
    public void What_only_alternating_current_has_means_the_wall(LogQuantity quantity)
    {
        var log = Invented.Usb("a.csv", 10) with
        {
            MeanVoltageV = null,
            Quantities = new HashSet<LogQuantity> { LogQuantity.Power, quantity },
        };
        Assert.Equal(MeasuringPoint.Wall, PointGuess.Of(log, NameWords.Of("a.csv")).Point);
    }

    [Fact]
    public void A_log_of_power_alone_is_guessed_at_the_wall_and_asked()
    {
        var log = Invented.Usb("a.csv", 10) with { MeanVoltageV = null, Quantities = new HashSet<LogQuantity> { LogQuantity.Power } };
        var guess = PointGuess.Of(log, NameWords.Of("a.csv"));
        Assert.Equal(MeasuringPoint.Wall, guess.Point);
        Assert.Contains(guess.Remarks, r => r.Kind == RemarkKind.Question);
        Assert.Equal(MeasuringPoint.Device, PointGuess.Of(log, NameWords.Of("device.csv")).Point);
    }
}
