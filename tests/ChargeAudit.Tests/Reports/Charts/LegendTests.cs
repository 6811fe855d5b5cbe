using ChargeAudit.Reports.Charts;

namespace ChargeAudit.Tests.Reports.Charts;

public sealed class LegendTests
{
    private static readonly string[] Names = ["cable", "pad A by the bed", "pad B on the desk", "5 W stand", "15 W stand", "car holder"];

    [Theory]
    [InlineData(340)]
    [InlineData(600)]
    [InlineData(860)]
    public void No_method_is_left_out_however_narrow_the_chart(int widthPx)
    {
        var size = PlotFrame.WithLegend((widthPx < 500 ? ChartSize.Narrow : ChartSize.Wide) with { WidthPx = widthPx }, Names);
        var plot = PlotFrame.New(size);
        plot.Add.Line(0, 0, 1, 1);
        PlotFrame.Legend(plot, size, Names.Select((n, i) => (n, Palette.Of(i))));
        string svg = SvgText.Clean(plot.GetSvgXml(size.WidthPx, size.HeightPx), "t");
        Assert.All(Names, n => Assert.Contains($">{n}<", svg, StringComparison.Ordinal));
        Assert.True(size.HeightPx >= ChartSize.Narrow.HeightPx);
    }

    [Fact]
    public void A_look_holds_only_where_it_is_in_use()
    {
        string before = Palette.Ink.ToHex();
        using (new ChartLook { Theme = ChartTheme.Dark }.Use())
        {
            Assert.NotEqual(before, Palette.Ink.ToHex());
            Assert.True(Palette.Contrast(Palette.Ink, Palette.Card) > 7);
            Assert.All(Enumerable.Range(0, 6), i => Assert.True(Palette.Contrast(Palette.Of(i), Palette.Card) >= 3, $"{i}"));
        }

        Assert.Equal(before, Palette.Ink.ToHex());
        Assert.All(Enumerable.Range(0, 6), i => Assert.True(Palette.Contrast(Palette.Of(i), Palette.Card) >= 3, $"{i}"));
    }
}
