using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring;

public class SmallLogsTests
{
    // A constant 5 W: every kind of reading gives 5 W times the time that it stands for; averages reach one interval further than their
    // stamps.
    [Theory]
    [InlineData(SampleKind.Instantaneous)]
    [InlineData(SampleKind.AverageEnding)]
    [InlineData(SampleKind.AverageStarting)]
    [InlineData(SampleKind.OnChange)]
    public void A_log_of_any_small_number_of_rows_is_measured(SampleKind kind)
    {
        bool averages = kind is SampleKind.AverageEnding or SampleKind.AverageStarting;
        foreach (double intervalS in new[] { 0.25, 1, 60, 900 })
        {
            foreach (int rows in Enumerable.Range(2, 130))
            {
                var result = Measure(Enumerable.Range(0, rows).Select(i => (i * intervalS, 5.0)), kind);
                double seconds = (averages ? rows : rows - 1) * intervalS;
                Assert.Equal(5 * seconds / 3600, result.Energy.Value, 1e-9 * seconds);
            }
        }
    }

    private static ChargeAudit.Measuring.LogMeasurement Measure(IEnumerable<(double TimeS, double PowerW)> rows, SampleKind kind)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, "time (s),power (W)\n"
                + string.Concat(rows.Select(r => InvariantText.Of($"{r.TimeS},{r.PowerW:F3}\n"))));
            var meter = new Meter { Name = "plug", Options = new LogOptions { Samples = kind, Point = MeasuringPoint.Wall } };
            return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Meter = meter },
                cancellation: TestContext.Current.CancellationToken).Result;
        }
        finally
        {
            File.Delete(path);
        }
    }
}
