using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

public sealed class BudgetTests
{
    private static Budget Of(params (string Id, double U)[] parts) => Budget.Of(Measured.From(
        1.5, "1", parts.Select(p => new UncertaintyComponent(new InfluenceSource(p.Id, p.Id.EndsWith("repeatability", StringComparison.Ordinal) ? 2 : double.PositiveInfinity), p.U))));

    [Fact]
    public void Rows_come_in_order_of_share_and_make_a_hundred_percent()
    {
        var budget = Of(("log:1/noise", 1), ("meter:bench/power-gain", -3), ("meter:bench/clock", 2), ("log:2/noise", 0));
        Assert.Equal(["meter:bench/power-gain", "meter:bench/clock", "log:1/noise"], budget.Rows.Select(r => r.Source.Id));
        Assert.Equal(100, budget.Rows.Sum(r => r.SharePercent), 1e-9);
        Assert.Equal(900.0 / 14, budget.Rows[0].SharePercent, 1e-9);
        Assert.Equal(3, budget.Rows[0].StandardUncertainty);
        Assert.Null(budget.Warning);
    }

    [Theory]
    [InlineData("meter:bench/voltage-gain", BudgetKind.MeterGain)]
    [InlineData("meter:bench/power-factor-offset", BudgetKind.MeterOffset)]
    [InlineData("meter:bench/clock", BudgetKind.Clock)]
    [InlineData("method:pad/usb-repeatability", BudgetKind.Repeatability)]
    [InlineData("log:pad-1/charge-noise", BudgetKind.Noise)]
    [InlineData("log:pad-1/charge-steps", BudgetKind.Steps)]
    [InlineData("log:pad-1/charge-between-rows", BudgetKind.Sampling)]
    [InlineData("log:pad-1/gap-at-line-812", BudgetKind.Gap)]
    [InlineData("log:pad-1/charge-end", BudgetKind.Edge)]
    [InlineData("comparison:pad/end-rule", BudgetKind.Edge)]
    [InlineData("log:pad-1/counter-last", BudgetKind.CounterReading)]
    [InlineData("meter:bench/burden", BudgetKind.MeterInLine)]
    [InlineData("assumed:adapter", BudgetKind.Other)]
    public void Kind_of_a_source(string id, BudgetKind kind) => Assert.Equal(kind, Budget.KindOf(id));

    [Theory]
    [InlineData("meter:bench/power-gain", "Have meter bench calibrated, or use one with a smaller error in per cent of the reading.")]
    [InlineData("meter:bench/power-offset", "Use a meter with a smaller fixed error than meter bench, or take its zero reading off first.")]
    [InlineData("log:1/charge-noise", "Log at shorter intervals, or use a meter that averages between its readings.")]
    [InlineData("log:1/gap-at-line-8", "Log again without the gaps.")]
    [InlineData("assumed:adapter", "Look at assumed:adapter first: it brings 91 % of the variance.")]
    public void Advice_follows_from_the_leading_source(string leading, string advice) =>
        Assert.Equal(advice, Of((leading, 1), ("meter:bench/clock", 0.3162)).Advice);

    [Fact]
    public void Two_meters_gains_call_for_one_meter() =>
        Assert.Equal(
            "Use the same meter for both: the gain errors of meter bench and meter plug would then cancel in a ratio.",
            Of(("meter:bench/power-gain", 1), ("meter:plug/power-gain", -1), ("log:1/noise", 0.5)).Advice);

    [Fact]
    public void Scatter_calls_for_as_many_runs_as_bring_it_down_to_the_rest()
    {
        // Three runs, scatter with twice the variance of the rest: three more halve it.
        Assert.Equal(
            "Three more runs of method pad would help most: the scatter between runs is the largest part.",
            Of(("method:pad/usb-repeatability", Math.Sqrt(2)), ("meter:bench/power-gain", 1)).Advice);
        Assert.StartsWith("Three more runs of each method", Of(("method:pad/usb-repeatability", 1), ("method:cable/usb-repeatability", 1)).Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void Sorts_are_weighed_as_wholes()
    {
        // The scatter is the largest single source, the two offsets together are more.
        var budget = Of(("method:pad/usb-repeatability", 1.1), ("meter:a/current-offset", 1), ("meter:a/voltage-offset", 1));
        Assert.Equal(BudgetKind.Repeatability, budget.Rows[0].Kind);
        Assert.Contains("zero reading", budget.Advice, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_not_known_is_said_first()
    {
        var budget = Budget.Of(Measured.From(1, "Wh", [new(new InfluenceSource("log:1/noise"), 0.1)], "meter plug states no accuracy of power"));
        Assert.Equal("The uncertainty is not known as a whole: meter plug states no accuracy of power.", budget.Warning);
        Assert.Single(budget.Rows);
        Assert.Null(Budget.Of(Measured.Exact(1, "Wh")).Advice);
    }
}
