using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Tests.Metrology.Repeats;

/// <summary>The worked example of docs/uncertainty.md; its numbers were worked out by hand and in another language, not by this
/// program.</summary>
public sealed class WorkedExampleTests
{
    private static readonly double[] CableWh = [13.18, 13.25, 13.21, 13.30, 13.16];
    private static readonly double[] PadWh = [19.65, 19.92, 19.80, 20.05, 19.71];

    [Fact]
    public void One_meter_for_both()
    {
        var comparison = RatioOfMeans.Compare(Mean("pad", PadWh, 2.6, "bench"), Mean("cable", CableWh, 1.6, "bench"));

        Assert.Equal(1.499697428, comparison.Ratio.Value, 5e-10);
        Assert.Equal(0.00615643, comparison.Ratio.StandardUncertainty!.Value, 5e-9);
        Assert.Equal(6.02918, comparison.Ratio.DegreesOfFreedom!.Value, 5e-5);
        Assert.Equal(1.484683, comparison.Ratio.Interval()!.Value.Low, 1e-5);
        Assert.Equal(1.514776, comparison.Ratio.Interval()!.Value.High, 1e-5);
        Assert.Equal("1.500 (1.485 to 1.515)", FigureText.Of(comparison.Ratio));
    }

    [Fact]
    public void Its_budget()
    {
        var budget = Budget.Of(RatioOfMeans.Compare(Mean("pad", PadWh, 2.6, "bench"), Mean("cable", CableWh, 1.6, "bench")).Ratio);

        Assert.Equal("method:pad/usb-repeatability", budget.Rows[0].Source.Id);
        Assert.Equal(78.59, budget.Rows[0].SharePercent, 0.01);
        Assert.Equal(21.39, budget.Rows[1].SharePercent, 0.01);
        Assert.Equal("meter:bench/current-offset", budget.Rows[2].Source.Id);
        Assert.Equal(7.88e-5, budget.Rows[2].StandardUncertainty, 5e-8);
        Assert.Equal("5 more runs of each method would help most: the scatter between runs is the largest part.", budget.Advice);
    }

    [Fact]
    public void Two_meters_of_the_same_data_sheet()
    {
        var comparison = RatioOfMeans.Compare(Mean("pad", PadWh, 2.6, "plug"), Mean("cable", CableWh, 1.6, "bench"));
        Assert.Equal(0.00646356, comparison.Ratio.StandardUncertainty!.Value, 5e-9);
        Assert.Equal(7.32536, comparison.Ratio.DegreesOfFreedom!.Value, 5e-5);

        // Student's t at 7.33 gives [1.484586, 1.514882]; the full convolution reaches a little further, and the factor lies between
        // (5e-4).
        Assert.InRange(comparison.Ratio.Interval()!.Value.Low, 1.48459 - 5e-4, 1.48459);
        Assert.InRange(comparison.Ratio.Interval()!.Value.High, 1.51488, 1.51488 + 5e-4);
    }

    private static MeanOfRuns Mean(string method, double[] wattHours, double hours, string meter) =>
        Repeatability.Combine([.. wattHours.Select(wh => Run(wh, hours, meter))], InfluenceSource.ScatterOf(method, "usb"));

    private static Measured Run(double wattHours, double hours, string meter)
    {
        var sheet = new Dictionary<LogQuantity, MeterAccuracy>();
        foreach (var (quantity, text) in ((LogQuantity, string)[])[(LogQuantity.Voltage, "0.05 % + 2 mV"),
            (LogQuantity.Current, "0.1 % + 1 mA")])
        {
            Assert.True(MeterAccuracy.TryParse(text, quantity, out var accuracy, out string? error), error);
            sheet[quantity] = accuracy;
        }

        var sums = new EnergySensitivities
        {
            EnergyJ = wattHours * 3600,
            DurationS = hours * 3600,
            VoltSeconds = 9 * hours * 3600,
            ChargeC = wattHours * 3600 / 9,
        };
        var errors = MeterError.ForEnergy(meter, sheet, sums, PowerBasis.VoltageTimesCurrent);
        return Measured.From(sums.EnergyJ, "J", errors.Components, errors.UnknownBecause).In("Wh", 1 / 3600.0);
    }
}
