using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

/// <summary>A mean holds all that flowed in its window, wherever in it a charge began. Expected values by hand.</summary>
public class MeanBorderTests
{
    // 0.1 W, an hour of 10 W, 0.3 W: whatever part of a row the charge begins and ends in, it took 10 Wh, and means know that far better
    // than readings of a moment.
    [Theory]
    [InlineData(60, 0.1)]
    [InlineData(60, 0.5)]
    [InlineData(300, 0.25)]
    [InlineData(300, 0.5)]
    [InlineData(300, 0.9)]
    [InlineData(600, 0.4)]
    public void The_energy_of_a_charge_does_not_depend_on_where_in_a_row_it_begins(int intervalS, double share)
    {
        double startS = (8 + share) * intervalS;
        double endS = startS + 3600;
        var text = new StringBuilder("time (s),power (W)\n");
        for (int end = intervalS; end <= startS + 3600 + (14 * intervalS); end += intervalS)
        {
            double from = end - intervalS;
            double charging = Math.Max(0, Math.Min(end, endS) - Math.Max(from, startS));
            double before = Math.Clamp(startS - from, 0, intervalS);
            double mean = ((10 * charging) + (0.1 * before) + (0.3 * (intervalS - charging - before))) / intervalS;
            text.Append(CultureInfo.InvariantCulture, $"{end},{mean:F4}\n");
        }

        var log = LogMeasurer.Measure(new MeasureRequest
        {
            Content = new MemoryStream(Encoding.UTF8.GetBytes(text.ToString())),
            Paths = ["means.csv"],
            Meter = new Meter
            {
                Name = "plug",
                Options = new LogOptions { Samples = SampleKind.AverageEnding },
                Accuracy = DataSheet.Of((LogQuantity.Power, "0.01 %")),
            },
        }, cancellation: TestContext.Current.CancellationToken);
        var charge = Assert.Single(log.Result.Modes, m => m.Span.Mode == Mode.Charge).Energy;
        double withinWh = Math.Max(0.01, 0.3 * intervalS / 3600);
        Assert.InRange(charge.Value, 10 - withinWh, 10 + withinWh);

        // Readings of a moment leave 10 W over interval/√12 at the border: means less than a third of that.
        Assert.True(HalfWidth(charge) < 1.96 * 10 * intervalS / Math.Sqrt(12) / 3600 / 3, charge.ToString());
        Assert.True(Math.Abs(charge.Value - 10) <= HalfWidth(charge), charge.ToString());

        // What one mode gains the other loses: together they are the log.
        Assert.Equal(log.Result.Energy.Value, log.Result.Modes.Sum(m => m.Energy.Value), 9);
    }

    // 0.1 W, ten minutes of 10 W, 0.3 W, read at moments every 30 s: twenty readings fall in the charge wherever it begins, and the
    // straight lines between readings make 20 · 30 s · 10 W of them, which is right on average over all places. Start and end each lie
    // anywhere within one interval: 10 W · 30 s/√12 at either end.
    [Theory]
    [InlineData(0.1)]
    [InlineData(0.5)]
    [InlineData(0.9)]
    public void Between_readings_of_a_moment_a_step_is_taken_where_it_is_to_be_expected(double share)
    {
        const int IntervalS = 30, Waiting = 12, Charging = 20;
        var text = new StringBuilder("time (s),power (W)\n");
        double startS = (Waiting + share) * IntervalS, endS = startS + (Charging * IntervalS);
        for (int at = 0; at <= endS + (14 * IntervalS); at += IntervalS)
        {
            text.Append(CultureInfo.InvariantCulture, $"{at},{(at < startS ? 0.1 : at < endS ? 10 : 0.3):F4}\n");
        }

        var log = LogMeasurer.Measure(new MeasureRequest
        {
            Content = new MemoryStream(Encoding.UTF8.GetBytes(text.ToString())),
            Paths = ["moments.csv"],
            Meter = new Meter
            {
                Name = "plug",
                Options = new LogOptions { Samples = SampleKind.Instantaneous },
                Accuracy = DataSheet.Of((LogQuantity.Power, "0.01 %")),
            },
        }, cancellation: TestContext.Current.CancellationToken);
        var charge = Assert.Single(log.Result.Modes, m => m.Span.Mode == Mode.Charge).Energy;
        Assert.Equal(Charging * IntervalS * 10 / 3600.0, charge.Value, 0.2 * IntervalS / 3600);
        double borderWh = IntervalS / Math.Sqrt(12) * Math.Sqrt(2) * 10 / 3600;
        Assert.InRange(charge.StandardUncertainty!.Value, 0.97 * borderWh, 1.1 * borderWh);
        Assert.Equal(log.Result.Energy.Value, log.Result.Modes.Sum(m => m.Energy.Value), 9);
    }

    private static double HalfWidth(Measured measured) => measured.Interval() is { } interval
        ? 0.5 * (interval.High - interval.Low)
        : double.NaN;
}
