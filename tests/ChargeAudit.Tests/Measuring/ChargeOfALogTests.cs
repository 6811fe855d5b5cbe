using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Only direct current moves charge; effective values of mains current summed over time are not charge, whether or not it was
/// stated where the meter was.</summary>
public sealed class ChargeOfALogTests
{
    [Theory]
    [InlineData("voltage_V,current_A", 5, 2, null)]
    [InlineData("voltage_V,current_A", 48, 2, MeasuringPoint.Usb)]
    public void A_usb_log_has_one(string columns, double voltageV, double currentA, MeasuringPoint? point) =>
        Assert.Equal(currentA * 600 / 3600, Measure(columns, $"{voltageV},{currentA}", point).Charge.Value!.Value, 1e-9);

    [Theory]
    [InlineData("voltage_V,current_A,power_W", "230,0.05,10", null)]
    [InlineData("voltage_V,current_A,power_W", "100,0.1,9", null)]
    [InlineData("voltage_V,current_A,power_W", "12,0.9,10", MeasuringPoint.Wall)]
    [InlineData("current_A,power_W,power_factor", "0.05,10,0.9", null)]
    [InlineData("current_A,power_W,apparent_power_VA", "0.05,10,11", null)]
    public void A_log_of_alternating_current_has_none(string columns, string values, MeasuringPoint? point)
    {
        var charge = Measure(columns, values, point).Charge;
        Assert.Null(charge.Value);
        Assert.Equal("on alternating current no charge is moved", charge.WhyNot);
    }

    private static LogMeasurement Measure(string columns, string values, MeasuringPoint? point)
    {
        var text = new StringBuilder($"time_s,{columns}\n");
        for (int second = 0; second <= 600; second++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{second},{values}\n");
        }

        string path = Path.Combine(Path.GetTempPath(), $"chargeaudit-charge-{Guid.NewGuid():N}.csv");
        try
        {
            File.WriteAllText(path, text.ToString());
            return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Point = point },
                cancellation: TestContext.Current.CancellationToken).Result;
        }
        finally
        {
            File.Delete(path);
        }
    }
}
