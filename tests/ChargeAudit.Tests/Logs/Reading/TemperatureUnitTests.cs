using ChargeAudit.Logs;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>Temperatures in other units than °C: of all units only theirs have different zeros.</summary>
public sealed class TemperatureUnitTests
{
    [Theory]
    [InlineData("Temp (°F)", "32", 0)]
    [InlineData("Temp (°F)", "212", 100)]
    [InlineData("temperature_degF", "77", 25)]
    [InlineData("Temp [K]", "273.15", 0)]
    [InlineData("Temp [K]", "300", 26.85)]
    [InlineData("Temp [°C]", "25.5", 25.5)]
    [InlineData("Temp [°C]", "77 °F", 25)]
    [InlineData("Temp (°F)", "25 °C", 25)]
    public void They_come_out_in_degrees_Celsius(string header, string field, double degreesCelsius)
    {
        var lines = Enumerable.Range(0, 60).Select(i => $"{i},5.{i % 10},{field}").Prepend($"time_s,power_W,{header}");
        foreach (bool parallel in (bool[])[true, false])
        {
            var read = LogText.Of(string.Join('\n', lines) + "\n", new LogOptions { Parallel = parallel, PieceBytes = 100 });
            Assert.Empty(read.Layout.Notes);
            Assert.Equal(60, read.Samples.Count);
            Assert.All(read.Samples, s => Assert.Equal(degreesCelsius, s.TemperatureC, 1e-10));
        }
    }

    [Fact]
    public void A_power_beside_them_is_left_as_it_is()
    {
        var lines = Enumerable.Range(0, 60).Select(i => $"{i},5{i % 10}00,77").Prepend("time_s,power_mW,Temp (°F)");
        Assert.All(LogText.Of(string.Join('\n', lines) + "\n").Samples, s => Assert.InRange(s.PowerW, 5, 6));
    }
}
