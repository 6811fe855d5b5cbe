using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Which stated accuracies an interval follows from: 5 V and 2 A for an hour, 10 Wh.</summary>
public sealed class StatedBasisTests
{
    private const string Voltage = "0.05 % + 2 mV";
    private const string Current = "0.1 % + 1 mA";

    // ∫V dt = 18 000 V s and ∫I dt = 7200 C carry the offsets, the energy the gains.
    [Theory]
    [InlineData("meter:bench/voltage-gain", 36_000 * 0.0005)]
    [InlineData("meter:bench/voltage-offset", 7200 * 0.002)]
    [InlineData("meter:bench/current-gain", 36_000 * 0.001)]
    [InlineData("meter:bench/current-offset", 18_000 * 0.001)]
    public void A_power_column_on_direct_current_errs_as_the_stated_voltage_and_current_do(string source, double halfWidthJ)
    {
        var log = Measure(Direct("time (s),voltage (V),current (A),power (W)", 5, 2, 10), MeasuringPoint.Usb, null,
            (LogQuantity.Voltage, Voltage), (LogQuantity.Current, Current));
        Assert.Null(log.Energy.UnknownBecause);
        Assert.Equal(halfWidthJ / Math.Sqrt(3) / 3600, Part(log, source), 1e-9);
    }

    // 1 % of 36 000 J, and 20 mW for 3600 s.
    [Fact]
    public void A_product_errs_as_the_stated_power_does_where_only_that_is_stated()
    {
        var log = Measure(Direct("time (s),voltage (V),current (A)", 5, 2), MeasuringPoint.Usb, null, (LogQuantity.Power, "1 % + 20 mW"));
        Assert.Equal(360 / Math.Sqrt(3) / 3600, Part(log, "meter:bench/power-gain"), 1e-9);
        Assert.Equal(72 / Math.Sqrt(3) / 3600, Part(log, "meter:bench/power-offset"), 1e-9);
        Assert.NotNull(log.Energy.Interval());
    }

    [Fact]
    public void The_power_columns_own_accuracy_goes_first()
    {
        var log = Measure(
            Direct("time (s),voltage (V),current (A),power (W)", 5, 2, 10), MeasuringPoint.Usb, null, (LogQuantity.Voltage, Voltage),
                (LogQuantity.Current, Current), (LogQuantity.Power, "1 %"));
        Assert.Equal(["meter:bench/power-gain"], log.Energy.Components.Select(c => c.Source.Id)
            .Where(i => i.StartsWith("meter:", StringComparison.Ordinal)));
    }

    // On the mains the phase between voltage and current is open; a power column alone shows neither of them.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Elsewhere_no_interval_is_given_and_the_reason_is_told(bool wall)
    {
        string text = wall ? Direct("time (s),voltage (V),current (A),power (W)", 230, 0.1, 11) : Direct("time (s),power (W)", 10);
        var log = Measure(text, wall
            ? MeasuringPoint.Wall
            : MeasuringPoint.Usb, null, (LogQuantity.Voltage, Voltage), (LogQuantity.Current, Current));
        Assert.Null(log.Energy.Interval());
        Assert.Equal("the accuracy of meter bench for power is not stated", log.Energy.UnknownBecause);
    }

    // 230 V, 0.1 A and a factor of 0.5 for an hour: 11.5 Wh of 23 VAh. The factor's ±0.01 brings 0.01 · 23 Wh, the current's 1 mA 230 V ·
    // 0.5 · 1 mA.
    [Fact]
    public void With_a_stated_power_factor_power_follows_on_the_mains_as_well()
    {
        var log = Measure(
            Direct("time (s),voltage (V),current (A),power factor,power (W)", 230, 0.1, 0.5, 11.5), MeasuringPoint.Wall, null,
            (LogQuantity.Voltage, "0.5 %"), (LogQuantity.Current, "1 % + 1 mA"), (LogQuantity.PowerFactor, "0.01"));
        Assert.Null(log.Energy.UnknownBecause);
        Assert.Equal(0.01 * 23 / Math.Sqrt(3), Part(log, "meter:bench/power-factor-offset"), 1e-6);
        Assert.Equal(0.115 / Math.Sqrt(3), Part(log, "meter:bench/current-offset"), 1e-6);
    }

    private static string Direct(string header, params double[] readings) =>
        Of(header, Enumerable.Range(0, 3601), [.. readings.Select(r => ("0.0000", (Func<int, double>)(_ => r)))]);

    private static double Part(LogMeasurement log, string source) =>
        Assert.Single(log.Energy.Components, c => c.Source.Id == source).SignedStandardUncertainty;
}
