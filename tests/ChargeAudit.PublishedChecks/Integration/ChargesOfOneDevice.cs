using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Integration;

/// <summary>One charge of one device each way, by the counter of a meter in the USB line. Common practice, no source.</summary>
public class ChargesOfOneDevice
{
    [Fact]
    public void By_cable_9283_mWh_and_by_pad_15168_mWh_are_a_ratio_of_1_634()
    {
        var cable = ByCounter(9283);
        var pad = ByCounter(15_168);
        Assert.Equal(1.634, RatioOfMeans.Compare(pad, cable).Ratio.Value, 0.0005);
    }

    private static Measured ByCounter(double milliwattHours)
    {
        var summary = new LogSummary.Builder(new SummaryRules
        {
            Source = PowerSource.EnergyCounter,
            Samples = SampleKind.Instantaneous,
            MedianIntervalS = 60,
            GapThresholdS = 300,
        });
        for (int minute = 0; minute <= 120; minute++)
        {
            summary.Add(Sample.Empty(60 * minute, minute + 1) with { EnergyCounterJ = 3.6 * milliwattHours * minute / 120 });
        }

        return Measured.Unknown(summary.Finish().EnergyJ.Value / 3600, "Wh", "no accuracy was stated");
    }
}
