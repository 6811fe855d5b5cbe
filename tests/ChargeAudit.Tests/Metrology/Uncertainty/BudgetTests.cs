using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

public sealed class BudgetTests
{
    private static readonly InfluenceSource BenchGain = InfluenceSource.OfMeter("bench", SourceKind.MeterGain, "power-gain");
    private static readonly InfluenceSource BenchClock = InfluenceSource.OfMeter("bench", SourceKind.Clock, "clock");
    private static readonly InfluenceSource PadScatter = InfluenceSource.ScatterOf("pad", "usb") with { DegreesOfFreedom = 2 };

    private static Budget Of(params (InfluenceSource Source, double U)[] parts) =>
        Budget.Of(Measured.From(1.5, "1", parts.Select(p => new UncertaintyComponent(p.Source, p.U))));

    private static InfluenceSource NoiseOf(string log) => InfluenceSource.OfLog(log, SourceKind.Noise, "noise");

    [Fact]
    public void Rows_come_in_order_of_share_and_make_a_hundred_percent()
    {
        var budget = Of((NoiseOf("1"), 1), (BenchGain, -3), (BenchClock, 2), (NoiseOf("2"), 0));
        Assert.Equal(["meter:bench/power-gain", "meter:bench/clock", "log:1/noise"], budget.Rows.Select(r => r.Source.Id));
        Assert.Equal(100, budget.Rows.Sum(r => r.SharePercent), 1e-9);
        Assert.Equal(900.0 / 14, budget.Rows[0].SharePercent, 1e-9);
        Assert.Equal(3, budget.Rows[0].StandardUncertainty);
        Assert.Null(budget.Warning);
    }

    [Theory]
    [InlineData(SourceOwner.Meter, SourceKind.MeterGain,
        "Have meter bench calibrated, or use one with a smaller error in per cent of the reading.")]
    [InlineData(SourceOwner.Meter, SourceKind.MeterOffset,
        "Use a meter with a smaller fixed error than meter bench, or take its zero reading off first.")]
    [InlineData(SourceOwner.Meter, SourceKind.MeterInLine,
        "Measure the resistance and the own consumption of meter bench, or move the sense leads behind it.")]
    [InlineData(SourceOwner.Log, SourceKind.Noise, "Log at shorter intervals, or use a meter that averages between its readings.")]
    [InlineData(SourceOwner.Log, SourceKind.Gap, "Log again without the gaps.")]
    [InlineData(SourceOwner.Log, SourceKind.CounterReading, "Use a counter with finer steps, or let it run over several charges.")]
    [InlineData(SourceOwner.Adapter, SourceKind.Other, "Look at adapter:bench/x first: it brings 91 % of the variance.")]
    public void Advice_follows_from_the_leading_source(SourceOwner owner, SourceKind kind, string advice) =>
        Assert.Equal(advice,
            Of((new InfluenceSource("x") { Owner = owner, OwnerName = "bench", Kind = kind }, 1), (BenchClock, 0.3162)).Advice);

    [Theory]
    [InlineData("counter-pad.csv")]
    [InlineData("gap-gain/sampling-noise")]
    [InlineData("meter:plug/power-gain")]
    [InlineData("x-repeatability")]
    public void What_a_log_or_a_run_is_called_changes_no_advice(string name)
    {
        string advice = Of((NoiseOf("plain"), 1), (BenchClock, 0.3)).Advice!;
        Assert.Equal(advice, Of((NoiseOf(name), 1), (BenchClock, 0.3)).Advice);
        Assert.Equal(advice,
            Of((InfluenceSource.OfLog("plain", SourceKind.Noise, $"{name}-maintenance-noise"), 1), (BenchClock, 0.3)).Advice);
    }

    [Fact]
    public void Two_meters_gains_call_for_one_meter() =>
        Assert.Equal(
            "Use the same meter for both: the gain errors of meter bench and meter plug would then cancel in a ratio.",
            Of((BenchGain, 1), (BenchGain with { OwnerName = "plug" }, -1), (NoiseOf("1"), 0.5)).Advice);

    [Fact]
    public void Scatter_calls_for_as_many_runs_as_bring_it_down_to_the_rest()
    {
        // Three runs, scatter with twice the variance of the rest: three more halve it.
        Assert.Equal(
            "Three more runs of method pad would help most: the scatter between runs is the largest part.",
            Of((PadScatter, Math.Sqrt(2)), (BenchGain, 1)).Advice);
        Assert.StartsWith("Three more runs of each method", Of((PadScatter, 1), (PadScatter with { OwnerName = "cable" }, 1)).Advice,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Sorts_are_weighed_as_wholes()
    {
        // The scatter is the largest single source, the two offsets together are more.
        var budget = Of((PadScatter, 1.1), (InfluenceSource.OfMeter("a", SourceKind.MeterOffset, "current-offset"), 1),
            (InfluenceSource.OfMeter("a", SourceKind.MeterOffset, "voltage-offset"), 1));
        Assert.Equal(SourceKind.Repeatability, budget.Rows[0].Source.Kind);
        Assert.Contains("zero reading", budget.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_known_is_said_first()
    {
        var budget = Budget.Of(Measured.From(1, "Wh", [new(NoiseOf("1"), 0.1)], "meter plug states no accuracy of power"));
        Assert.Equal("The uncertainty is not known as a whole: meter plug states no accuracy of power.", budget.Warning);
        Assert.Single(budget.Rows);
        Assert.Null(Budget.Of(Measured.Exact(1, "Wh")).Advice);
    }
}
