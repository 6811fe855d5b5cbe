using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.PublishedChecks.Integration;

/// <summary>
/// A waiting pad's pulses under slow instantaneous readings: 2 W for a tenth of every second, so a true mean of 0.2 W.
/// Source: the sampling theorem, f_s &gt; 2·f_max, and the beat of two frequencies; the figures are arithmetic on them, no published
/// example.
/// </summary>
public class AliasingChecks
{
    [Theory]
    [InlineData(1.0, 2.0, 1e-9)]
    [InlineData(0.9, 0.2, 1e-3)]
    [InlineData(0.7, 0.2, 1e-3)]
    public void Readings_in_step_with_the_pulses_are_wrong_by_a_factor_of_ten(double intervalS, double expectedMeanW, double tolerance)
    {
        var builder = new LogSummary.Builder(new SummaryRules
        {
            Source = PowerSource.PowerColumn,
            Samples = SampleKind.Instantaneous,
            MedianIntervalS = intervalS,
            GapThresholdS = 100,
        });
        for (int i = 0; i <= 6300; i++)
        {
            // The phase is taken in whole tenths, so that no rounding decides whether a reading meets the pulse.
            long tenths = (long)Math.Round(i * intervalS * 10) % 10;
            builder.Add(Sample.Empty(i * intervalS, i + 1) with { PowerW = tenths == 0 ? 2 : 0 });
        }

        var summary = builder.Finish();
        Assert.Equal(expectedMeanW, summary.EnergyJ.Value / summary.CoveredS.Value, tolerance);
    }
}
