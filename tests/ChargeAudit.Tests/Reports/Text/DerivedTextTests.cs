using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Tests.Reports.Text;

public sealed class DerivedTextTests
{
    private const string Adapter = "an adapter efficiency of 88 % that was given and not measured";

    [Fact]
    public void The_answer_takes_a_measured_comparison_before_a_derived_one_nearer_the_wall()
    {
        var result = Derived(MeasuringPoint.Wall);
        Assert.Equal(MeasuringPoint.Usb, Assert.Single(Answer.Headlines(result)).Point);
        Assert.Contains("more energy at the adapter's output than", Answer.Sentences(result)[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_derived_answer_is_never_called_measured()
    {
        var result = Derived(MeasuringPoint.Wall);
        result = result with { Comparisons = [.. result.Comparisons.Where(c => c.Point == MeasuringPoint.Wall)] };
        string sentence = Assert.Single(Answer.Sentences(result));
        Assert.Contains($"at the wall, not measured there but derived: it rests on {Adapter}", sentence, StringComparison.Ordinal);
        Assert.DoesNotContain(", measured at the wall", sentence, StringComparison.Ordinal);
        string page = System.Net.WebUtility.HtmlDecode(HtmlPage.Of(result)).Replace('\u00a0', ' ');
        Assert.Contains($"it rests on {Adapter}", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null, null, null)]
    [InlineData("a", null, "a")]
    [InlineData("a", "a", "a")]
    [InlineData("a", "a, and b", "a, and b")]
    [InlineData("a", "b", "a; b")]
    public void What_two_figures_rest_on_is_said_once(string? a, string? b, string? expected) =>
        Assert.Equal(expected, Figure.Joined(a, b));

    [Fact]
    public void A_measured_figure_bears_no_mark()
    {
        var measured = Figure.Of(Measured.Exact(1, "Wh"));
        Assert.Equal(("", "", ""), (DerivedText.Mark(measured), DerivedText.Star(measured), DerivedText.Behind(measured)));
        Assert.Equal((" (derived)", "*"), (DerivedText.Mark(measured with { Assumed = Adapter }), DerivedText.Star(measured with
        {
            Assumed = Adapter,
        })));
        Assert.Equal("", DerivedText.Mark(Figure.None("nobody measured it")));
    }

    private static AuditResult Derived(MeasuringPoint point)
    {
        var result = new ReportFixture { SamplesPerLog = 60, IntervalS = 120, Runs = 2 }.Build();
        return result with
        {
            Comparisons = [.. result.Comparisons.Select(c => c.Point == point
                ? c with { OverheadRatio = c.OverheadRatio with { Assumed = Adapter } }
                : c)],
        };
    }
}
