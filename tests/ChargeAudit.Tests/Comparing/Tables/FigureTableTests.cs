using ChargeAudit.Comparing.Tables;
using ChargeAudit.Tests.Reports;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Tests.Comparing.Tables;

public sealed class FigureTableTests
{
    private static readonly ReportFixture Small = new() { SamplesPerLog = 60, IntervalS = 120, Runs = 2 };

    [Fact]
    public void Every_figure_of_methods_stages_and_comparisons_has_one_row()
    {
        var result = Small.Build();
        var table = FigureTable.Of(result);
        int expected = result.Methods.Sum(m => (3 * m.Points.Count) + (m.Yearly.Detail is null ? 2 : 3)) + (2 * result.Stages.Count)
            + (2 * result.Comparisons.Count) + (3 * result.Years.Count);
        Assert.Equal(expected, table.Rows.Count);
        var keys = table.Rows.Select(r => $"{r["method"]} {r["reference"]} {r["figure"]} {r["point"]} {r["to"]}").ToList();
        Assert.Equal(keys.Count, keys.Distinct().Count());
    }

    [Fact]
    public void A_row_has_the_value_and_its_interval_or_says_why_not()
    {
        var table = FigureTable.Of(Small.Build());
        Assert.All(table.Rows, r => Assert.True(r["value"] is null == r["why_not"] is string, $"{r["method"]} {r["figure"]}"));
        Assert.All(table.Rows.Where(r => r["value_u"] is not null), r => Assert.InRange((double)r["value"], (double)r["value_low"],
            (double)r["value_high"]));
    }

    [Fact]
    public void The_ratio_at_the_wall_is_the_comparison_s()
    {
        var result = Small.Build();
        var pair = result.Comparisons[0];
        var ratio = Of(FigureTable.Of(result), "overhead-ratio").Single(r => Equals(r["point"], "wall"));
        Assert.Equal(("pad", "cable", "inductive", "1"),
            ((string)ratio["method"], (string)ratio["reference"], (string)ratio["kind"], (string)ratio["unit"]));
        var interval = pair.OverheadRatio.Value!.Interval()!.Value;
        Assert.Equal((pair.OverheadRatio.Value.Value, interval.Low, interval.High),
            ((double)ratio["value"], (double)ratio["value_low"], (double)ratio["value_high"]));
    }

    [Fact]
    public void Without_uncertainty_the_values_stand_alone()
    {
        var table = FigureTable.Of((Small with { KnownUncertainty = false }).Build());
        Assert.All(Of(table, "energy-per-charge"), r => Assert.NotNull(r["value"]));
        Assert.All(Of(table, "energy-per-charge"), r => Assert.Null(r["value_u"]));
    }

    private static IEnumerable<DataFrameRow> Of(DataFrame table, string figure) => table.Rows.Where(r => Equals(r["figure"], figure));
}
