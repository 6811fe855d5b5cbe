using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

public class EnergyEstimatorTests
{
    private const int Hour = 3600;

    // 5 V and 2 A for an hour: 10 Wh. Data sheet 0.05 % + 2 mV and 0.1 % + 1 mA, rectangular; ∫I dt = 7200 C and ∫V dt = 18 000 V s.
    [Theory]
    [InlineData("meter:bench/voltage-gain", 36_000 * 0.0005)]
    [InlineData("meter:bench/voltage-offset", 7200 * 0.002)]
    [InlineData("meter:bench/current-gain", 36_000 * 0.001)]
    [InlineData("meter:bench/current-offset", 18_000 * 0.001)]
    public void A_meters_errors_enter_by_the_integrals_that_are_their_sensitivities(string source, double halfWidthJ)
    {
        var meter = Bench(("0.05 % + 2 mV", LogQuantity.Voltage), ("0.1 % + 1 mA", LogQuantity.Current));
        var energy = Estimate(Seconds(Hour).Select(t => Sample.Empty(t, t + 1) with { VoltageV = 5, CurrentA = 2 }),
            PowerSource.DirectCurrentProduct, meter);
        Assert.Equal(10, energy.Value, 12);
        Assert.Equal(halfWidthJ / Math.Sqrt(3) / 3600, Part(energy, source), 1e-12);
    }

    // An hour of 10 W with white noise of 0.05 W: √3600 · 0.05 W · 1 s = 3 J.
    [Fact]
    public void White_noise_averages_down_by_the_root_of_the_number_of_readings()
    {
        var noise = Normal(seed: 1);
        var energy = Estimate(Seconds(Hour).Select(t => Power(t, 10 + (0.05 * noise()))), PowerSource.PowerColumn, null);
        Assert.Equal(3.0 / 3600, Part(energy, "log:test/whole-noise"), 0.15 * 3.0 / 3600);
    }

    // One step of 9 W at an unknown time between two rows a second apart: 9 W · 1 s/√12, whole and not by the number of rows.
    [Fact]
    public void A_step_between_two_readings_of_a_moment_stays_open_by_its_whole_share()
    {
        var energy = Estimate(Seconds(Hour).Select(t => Power(t, t < 1800 ? 1 : 10)), PowerSource.PowerColumn, null);
        Assert.Equal(9 / Math.Sqrt(12) / 3600, Part(energy, "log:test/whole-between-rows"), 1e-9);
    }

    // Noise with a memory: an AR(1) of 0.9 averages down by √((1 + 0.9)/(1 − 0.9)) = 4.36 less.
    [Fact]
    public void Noise_with_a_memory_averages_down_less()
    {
        var normal = Normal(seed: 2);
        double last = 0;
        var energy = Estimate(
            Seconds(4 * Hour).Select(t => Power(t, 10 + (last = (0.9 * last) + (0.05 * Math.Sqrt(1 - 0.81) * normal())))),
                PowerSource.PowerColumn, null);
        double expectedWh = 4.358899 * Math.Sqrt(4 * Hour) * 0.05 / 3600;
        Assert.Equal(expectedWh, Part(energy, "log:test/whole-noise"), 0.3 * expectedWh);
    }

    // Steps of 2 W and half of the time in each of two: cut-down readings are too low by 1 W, and what stays of an error anywhere in the
    // step is 2/√12 · √(½² + ½²) W, for as long as the log lasts and however many readings there are.
    [Theory]
    [InlineData(Hour)]
    [InlineData(4 * Hour)]
    public void A_coarse_step_never_averages_out(int seconds)
    {
        var energy = Estimate(Seconds(seconds).Select(t => Power(t, t / 600 % 2 == 0 ? 4 : 6)), PowerSource.PowerColumn, null, stepW: 2);
        Assert.Equal(Math.Sqrt(1 + (4.0 / 12 / 2)) * seconds / 3600, Part(energy, "log:test/whole-steps"), 1e-3 * seconds / 3600);
    }

    [Fact]
    public void A_step_that_the_data_sheet_allows_for_is_not_counted_twice()
    {
        var meter = Bench(("1 % + 2 W", LogQuantity.Power));
        var energy = Estimate(Seconds(Hour).Select(t => Power(t, 4)), PowerSource.PowerColumn, meter, stepW: 2);
        Assert.DoesNotContain(energy.Components, c => c.Source.Id.EndsWith("-steps", StringComparison.Ordinal));
    }

    // A gap of 100 s between readings of 10 W in a log that reaches 10 W: anything from 0 to 1000 J, bridged by 1000 J. Variance about the
    // bridge 1000²/12 + 500².
    [Fact]
    public void A_bridged_gap_may_have_held_anything_from_nothing_to_the_highest_sustained_power()
    {
        var energy = Estimate(Seconds(Hour).Where(t => t is <= 1000 or >= 1100).Select(t => Power(t, 10)), PowerSource.PowerColumn, null);
        Assert.Equal(10, energy.Value, 9);
        Assert.Equal(Math.Sqrt((1000.0 * 1000 / 12) + (500 * 500)) / 3600, Part(energy, "log:test/gap-at-line-1101"), 1e-6);
    }

    [Fact]
    public void A_border_that_may_lie_elsewhere_brings_the_power_beside_it()
    {
        var estimator = Estimator(Seconds(Hour).Select(t => Power(t, t < 1800 ? 10 : 1)), PowerSource.PowerColumn, null);
        var energy = ModeFigures.EnergyWh(estimator, new ModeSpan(Mode.Charge, 0, 1799, 0, 5), "charge");
        Assert.Equal(10 * 5 / 3600.0, Part(energy, "log:test/border-at-1799.0-s"), 1e-9);
    }

    // 0.05 Ω in the line at 2 A for an hour: 720 J, of which any part may be in the reading.
    [Fact]
    public void The_meters_own_resistance_and_supply_may_be_in_the_reading_or_not()
    {
        var meter = Bench(("0.1 %", LogQuantity.Voltage), ("0.1 %", LogQuantity.Current)) with { BurdenOhm = 0.05, SelfPowerW = 0.1 };
        var energy = Estimate(Seconds(Hour).Select(t => Sample.Empty(t, t + 1) with { VoltageV = 5, CurrentA = 2 }),
            PowerSource.DirectCurrentProduct, meter);
        Assert.Equal(0.05 * 4 * 3600 / Math.Sqrt(3) / 3600, Part(energy, "meter:bench/burden"), 1e-9);
        Assert.Equal(0.1 * 3600 / Math.Sqrt(3) / 3600, Part(energy, "meter:bench/own-supply"), 1e-9);
    }

    // The source sags by 0.1 Ω; at a mean of 1 A in a log that reaches 2 A, hidden pulses could be worth at most 0.1 Ω · 1 A · 1 A.
    [Fact]
    public void Products_of_averages_allow_for_pulses_that_nobody_saw()
    {
        var samples = Seconds(Hour).Select(t => t < 1800 ? 1.0 : 2.0).Select((a, t) => Sample.Empty(t, t + 1) with
        {
            VoltageV = 5 - (0.1 * a),
            CurrentA = a,
        });
        var energy = Estimate(samples, PowerSource.DirectCurrentProduct, null, kind: SampleKind.AverageEnding);
        Assert.Equal(0.1 * 1800 / Math.Sqrt(3) / 3600, Part(energy, "log:test/whole-product-of-means"), 0.01 * 0.1 * 1800 / 3600);
    }

    [Fact]
    public void A_meter_without_stated_accuracy_gives_no_interval_and_says_so()
    {
        var energy = Estimate(Seconds(Hour).Select(t => Power(t, 10)), PowerSource.PowerColumn, Bench());
        Assert.Null(energy.StandardUncertainty);
        Assert.Null(energy.Interval());
        Assert.Contains("bench", energy.UnknownBecause, StringComparison.Ordinal);
    }

    // standards: 19.8 Wh and 13.2 Wh by meters with a gain of 0.5 %: with one meter it cancels to nothing, with two it does not.
    [Fact]
    public void One_meter_for_both_methods_cancels_its_gain_in_the_ratio()
    {
        Measured Of(double watts, string name) =>
            Estimate(Seconds(Hour).Select(t => Power(t, watts)), PowerSource.PowerColumn, Named(name, "1 % normal k=2"),
            id: $"{name}{watts}");
        var same = Measured.Quotient(Of(19.8, "plug"), Of(13.2, "plug"));
        var two = Measured.Quotient(Of(19.8, "one"), Of(13.2, "other"));
        Assert.Equal(1.5, same.Value, 12);
        Assert.Equal(0, same.StandardUncertainty!.Value, 1e-12);
        Assert.Equal(1.5 * 0.005 * Math.Sqrt(2), two.StandardUncertainty!.Value, 1e-9);
    }

    private static IEnumerable<int> Seconds(int last) => Enumerable.Range(0, last + 1);

    private static Sample Power(int timeS, double powerW) => Sample.Empty(timeS, timeS + 1) with { PowerW = powerW };

    private static Meter Bench(params (string Accuracy, LogQuantity Quantity)[] stated) =>
        new() { Name = "bench", Accuracy = stated.ToDictionary(s => s.Quantity, s => MeterAccuracy.Parse(s.Accuracy, s.Quantity)) };

    private static Meter Named(string name, string accuracy) =>
        new() { Name = name, Accuracy = DataSheet.Of((LogQuantity.Power, accuracy)) };

    private static double Part(Measured energy, string source) =>
        energy.Components.Single(c => c.Source.Id == source).SignedStandardUncertainty;

    private static Measured Estimate(
        IEnumerable<Sample> samples, PowerSource source, Meter? meter, double stepW = 0, SampleKind kind = SampleKind.Instantaneous,
            string id = "test") =>
        Estimator(samples, source, meter, stepW, kind, id).EnergyWh(double.NegativeInfinity, double.PositiveInfinity);

    private static EnergyEstimator Estimator(
        IEnumerable<Sample> samples, PowerSource source, Meter? meter, double stepW = 0, SampleKind kind = SampleKind.Instantaneous,
            string id = "test")
    {
        var layout = new LogLayout
        {
            Format = "text",
            Columns = [],
            TimeForm = "elapsed seconds",
            MedianIntervalS = 1,
            Samples = kind,
            SamplesWhy = "said",
            Resolution = stepW > 0
                ? new Dictionary<LogQuantity, double> { [LogQuantity.Power] = stepW }
                : new Dictionary<LogQuantity, double>(),
        };
        var summary = new LogSummary.Builder(SummaryRules.For(layout, source, new LogOptions()));
        foreach (var sample in samples)
        {
            summary.Add(sample);
        }

        return new EnergyEstimator(summary.Finish(), layout, meter, id);
    }

    private static Func<double> Normal(int seed)
    {
        var random = new MathNet.Numerics.Random.Xoshiro256StarStar(seed);
        return () => MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1);
    }
}
