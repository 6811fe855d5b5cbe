using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Measuring;

/// <summary>A log written on change in which the sensor says that it is away: what was held ends there, and the rest is a hole; energies by
/// hand.</summary>
public sealed class AwayGapTests
{
    // Held: 300 s at 6, 6.5 and 6 W, then 300 s at 6, 6.5 and 6 W: 11 100 J. The hole of 600 s lies between 6 W and 6 W: 3600 J.
    [Fact]
    public void What_was_held_ends_where_the_sensor_is_away()
    {
        const string Log = "time_s,power_W\n0,6\n300,6.5\n600,6\n900,unavailable\n1500,6\n1800,6.5\n2100,6\n2400,6.5\n";
        var log = WrittenLog.Measure(Log, new LogOptions { Point = MeasuringPoint.Wall, Samples = SampleKind.OnChange }, "1 %").Result;
        Assert.Equal((11_100 + 3600) / 3600.0, log.Energy.Value, 9);
        var gap = Assert.Single(log.Faults, f => f.Kind == FaultKind.Gap);
        Assert.StartsWith("the sensor was not available, 600 s in all", gap.Detail, StringComparison.Ordinal);
    }
}
