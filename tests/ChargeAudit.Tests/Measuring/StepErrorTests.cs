using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using static ChargeAudit.Tests.Measuring.Integration.SampleSeries;

namespace ChargeAudit.Tests.Measuring;

public class StepErrorTests
{
    private const double Everything = double.PositiveInfinity;

    // Cut-down readings are too low by half a step on average: √(1/4 + 1/12) = 1/√3 where the reading dwells, 1/2 where it runs through the
    // step.
    [Theory]
    [InlineData(1, 0.577350269189626)]
    [InlineData(0, 0.5)]
    public void Both_limits(double staying, double expectedSteps) => Assert.Equal(expectedSteps, StepError.Standard(staying), 12);

    [Fact]
    public void A_reading_that_never_moves_keeps_its_whole_error() => Assert.Equal(1, Share(_ => 3), 12);

    [Fact]
    public void Four_steps_in_turn_for_long_leave_half() => Assert.Equal(0.5, Share(t => t / 1024), 12);

    [Fact]
    public void Noise_across_many_steps_averages_out()
    {
        var random = new Random(1);
        Assert.Equal(0, Share(_ => Math.Round(3 + (5 * random.NextDouble()))), 12);
    }

    [Fact]
    public void A_drift_across_many_steps_in_few_rows_averages_out() => Assert.Equal(0, Share(t => t % 64), 12);

    // A reading that alternates between two steps may lie at their border, or the load switches: most of the error stays.
    [Fact]
    public void Two_steps_in_turn_leave_most() => Assert.Equal(Math.Sqrt(0.5), Share(t => t % 2), 3);

    // What the program reports against what rounding and cutting do to a mean, over the noise and the place in the step: within 95 % of the
    // interval's rectangular half-width.
    [Theory]
    [InlineData(0.0, true)]
    [InlineData(0.0, false)]
    [InlineData(0.2, true)]
    [InlineData(0.2, false)]
    [InlineData(2.0, true)]
    [InlineData(2.0, false)]
    public void Rounded_and_cut_down_readings_lie_inside(double noiseSteps, bool rounded)
    {
        var random = new Random(7);
        int inside = 0;
        for (int trial = 0; trial < 100; trial++)
        {
            double level = 5 + random.NextDouble();
            double Read(double v) => rounded ? Math.Round(v) : Math.Floor(v);
            double[] readings = [.. Enumerable.Range(0, 1024).Select(_ => Read(level + (noiseSteps * Normal(random))))];
            double u =
                StepError.Standard(
                    StepError.StayingShare(Envelope(t => readings[t], readings.Length), -Everything, Everything, 1, LogQuantity.Power));
            inside += Math.Abs(readings.Average() - level) <= 1.645 * u ? 1 : 0;
        }

        Assert.InRange(inside, 90, 100);
    }

    // A constant "0" of a meter with steps of 1 W: anything from 0 to about 1 W.
    [Theory]
    [InlineData("power (W)", "0", LogQuantity.Power, "1 % resolution 1 W")]
    [InlineData("power (W)", "0.000", LogQuantity.Power, "1 % resolution 1 W")]
    public void A_stated_resolution_counts(string header, string value, LogQuantity quantity, string accuracy)
    {
        var result = Measure($"time (s),{header}\n" + string.Concat(Enumerable.Range(0, 600).Select(i => $"{i},{value}\n")),
            DataSheet.Of((quantity, accuracy)));
        var interval = result.MeanPower.Interval()!.Value;
        Assert.Equal(0, interval.Low);
        Assert.InRange(interval.High, 0.9, 1.1);
    }

    // 5 V and a current in steps of 0.1 A: half a watt a step, though three decimals of power are printed.
    [Fact]
    public void Steps_hidden_in_a_product_count()
    {
        string rows = string.Concat(Enumerable.Range(0, 600)
            .Select(i => InvariantText.Of($"{i},5.0,{0.1 * (1 + (i / 60 % 9)):F1},{0.5 * (1 + (i / 60 % 9)):F3}\n")));
        var result = Measure("time (s),voltage (V),current (A),power (W)\n" + rows, DataSheet.Of((LogQuantity.Power, "1 %")));
        double stepsJ =
            result.Energy.Components.Single(c => c.Source.Id.EndsWith("/whole-steps", StringComparison.Ordinal)).SignedStandardUncertainty
            * 3600;
        Assert.InRange(stepsJ, 0.5 * 0.5 * 599, 0.6 * 0.5 * 599);
    }

    private static double Share(Func<int, double> reading) =>
        StepError.StayingShare(Envelope(reading, 4096), -Everything, Everything, 1, LogQuantity.Power);

    // Means over one second each, so that a cell holds one reading as it is.
    private static PowerEnvelope Envelope(Func<int, double> reading, int rows)
    {
        var summary = Summarise(Enumerable.Range(1, rows).Select(t => At(t, reading(t - 1))), Rules(SampleKind.AverageEnding));
        return summary.Envelope;
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static ChargeAudit.Measuring.LogMeasurement Measure(string text, Dictionary<LogQuantity, MeterAccuracy> accuracy)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            var meter = new Meter
            {
                Name = "plug",
                Accuracy = accuracy,
                Options = new LogOptions { Samples = SampleKind.AverageEnding, Point = MeasuringPoint.Usb },
            };
            return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Meter = meter },
                cancellation: TestContext.Current.CancellationToken).Result;
        }
        finally
        {
            File.Delete(path);
        }
    }
}
