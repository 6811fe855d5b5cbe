using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Low power factors on the mains. An hour of waiting at 230 V, 10 mA and 0.92 W has 2.3 VA and a power factor of 0.4.</summary>
public class MainsLoadTests
{
    private static readonly string Waiting =
        TextLog.Of("time_s,power_W,voltage_V,current_A", Enumerable.Range(0, 3600), ("F3", _ => 0.92),
        ("F1", _ => 230), ("F4", _ => 0.01));

    private static readonly string PowerOnly = TextLog.Of("time_s,power_W", Enumerable.Range(0, 3600), ("F3", _ => 0.92));

    // √(2.3² − 0.92²) = 2.10795 VA, times 0.01 rad, and half of 0.92 W · 0.01² more; an hour of it, rectangular.
    [Fact]
    public void The_logged_power_factor_carries_the_phase_error_into_the_energy()
    {
        var log = Measure(Waiting, Plug() with { Phase = [Phase("10 mrad")] });
        Assert.Equal((2.107952 * 0.01 + (0.5 * 0.92 * 1e-4)) / Math.Sqrt(3), Part(log.Energy, "meter:plug/power-phase") * 3600
            / log.DurationS, 1e-6);
        Assert.Equal(0.4, Assert.Single(log.Modes).PowerFactor!.Value, 1e-6);
    }

    [Fact]
    public void A_load_of_its_own_has_a_phase_error_of_its_own()
    {
        var log = Measure(Waiting, Plug() with { Phase = [Phase("10 mrad")] }, "pad");
        Assert.True(Part(log.Energy, "meter:plug/power-phase-of-pad") > 0);
    }

    // tan(arccos 0.5) = √3.
    [Fact]
    public void A_stated_power_factor_stands_in_where_the_log_does_not_tell()
    {
        var log = Measure(PowerOnly, Plug() with { Phase = [Phase("10 mrad")], PowerFactor = 0.5 });
        Assert.Equal(0.92 * ((0.01 * Math.Sqrt(3)) + 0.5e-4) / Math.Sqrt(3), Part(log.Energy, "meter:plug/power-phase") * 3600
            / log.DurationS, 1e-6);
    }

    [Fact]
    public void A_phase_error_without_a_power_factor_leaves_no_interval()
    {
        var log = Measure(PowerOnly, Plug() with { Phase = [Phase("10 mrad")] });
        Assert.Contains("the power factor is not known", log.Energy.UnknownBecause, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.5, true)]
    [InlineData(0.3, false)]
    public void Below_the_least_power_factor_the_accuracy_says_nothing(double least, bool outside)
    {
        var log = Measure(Waiting, Plug() with { Limits = new MeterLimits { LeastPowerFactor = least }, Phase = [Phase("0.2°")] });
        Assert.Equal(outside, log.Energy.UnknownBecause is not null);
        Assert.Equal(outside, log.Doubts.Any(d => d.Text.Contains("holds from 0.5 only", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_least_power_factor_that_no_log_can_test_is_doubted()
    {
        var log = Measure(PowerOnly, Plug() with { Limits = new MeterLimits { LeastPowerFactor = 0.5 } });
        Assert.Null(log.Energy.UnknownBecause);
        Assert.Contains(log.Doubts, d => d.Text.Contains("the log does not tell it", StringComparison.Ordinal));
    }

    // √2/0.4 = 3.5.
    [Theory]
    [InlineData(3, true)]
    [InlineData(5, false)]
    public void Pulses_beyond_the_crest_factor_are_doubted(double crest, bool doubted)
    {
        var log = Measure(Waiting, Plug() with { Limits = new MeterLimits { GreatestCrestFactor = crest }, Phase = [Phase("0.2°")] });
        Assert.Equal(doubted, log.Doubts.Any(d => d.Text.Contains("crest factor is about 3.5", StringComparison.Ordinal)));
    }

    // 0.92 W was read where up to 1.5 W may flow: anything from nothing to 1.5 W, so up to 0.92 W below and 0.58 W above.
    [Fact]
    public void Below_the_starting_power_anything_up_to_it_may_flow()
    {
        var log = Measure(Waiting, Plug() with { Limits = new MeterLimits { StartingPowerW = 1.5 }, Phase = [Phase("0.2°")] });
        Assert.Equal(0.92 / Math.Sqrt(3), Part(log.Energy, "meter:plug/starting-power") * 3600 / log.DurationS, 1e-3);
        Assert.Contains(log.Doubts, d => d.Text.Contains("starting power of 1.5 W", StringComparison.Ordinal));
        var above = Measure(Waiting, Plug() with { Limits = new MeterLimits { StartingPowerW = 0.5 }, Phase = [Phase("0.2°")] });
        Assert.DoesNotContain(above.Energy.Components, c => c.Source.Kind == SourceKind.StartingPower);
    }

    [Fact]
    public void A_low_power_factor_with_nothing_stated_of_the_phase_is_doubted()
    {
        Assert.Contains(Measure(Waiting, Plug()).Doubts,
            d => d.Text.Contains("the meter's phase error is not stated", StringComparison.Ordinal));
    }

    // Where power is a product with the power factor, the data sheet's power and phase stand in for the power factor's accuracy.
    [Fact]
    public void Power_and_phase_stand_for_a_product_with_the_power_factor()
    {
        string text = TextLog.Of("time_s,voltage_V,current_A,power_factor", Enumerable.Range(0, 3600), ("F1", _ => 230), ("F4", _ => 0.01),
            ("F2", _ => 0.4));
        var log = Measure(text, Plug() with { Phase = [Phase("10 mrad")] });
        Assert.Null(log.Energy.UnknownBecause);
        Assert.Equal(0.01 * 0.92 / Math.Sqrt(3), Part(log.Energy, "meter:plug/power-gain") * 3600 / log.DurationS, 1e-6);
    }

    [Theory]
    [InlineData("3")]
    [InlineData("-1°")]
    [InlineData("2 % at power factor 1.5")]
    [InlineData("2 W at power factor 0.5")]
    [InlineData("200°")]
    public void What_is_no_phase_is_refused(string text)
    {
        Assert.False(PhaseAccuracy.TryParse(text, out _, out string? error));
        Assert.Contains("expected a phase error", error, StringComparison.Ordinal);
    }

    private static Meter Plug() => new()
    {
        Name = "plug",
        Options = new LogOptions { Point = MeasuringPoint.Wall, Samples = SampleKind.AverageEnding },
        Accuracy = DataSheet.Of((LogQuantity.Power, "1 %")),
    };

    private static PhaseAccuracy Phase(string text) => PhaseAccuracy.TryParse(text, out var phase, out string? error)
        ? phase
        : throw new FormatException(error);

    private static double Part(Measured m, string id) => m.Components.Where(c => c.Source.Id == id).Sum(c => c.SignedStandardUncertainty);

    private static LogMeasurement Measure(string text, Meter meter, string? load = null)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            return LogMeasurer.Measure(
                new MeasureRequest
                {
                    Paths = [path],
                    Names = ["log.csv"],
                    Meter = meter,
                    Load = load,
                    Modes = new ModeOptions { Purpose = LogPurpose.Standby },
                },
                cancellation: TestContext.Current.CancellationToken).Result;
        }
        finally
        {
            File.Delete(path);
        }
    }
}
