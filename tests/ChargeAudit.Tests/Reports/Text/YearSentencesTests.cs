using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Tests.Reports.Text;

/// <summary>What a year costs, in sentences: what holds for several methods is said once, with all their names.</summary>
public sealed class YearSentencesTests
{
    private const string Short = "the short waiting before the charges";

    [Fact]
    public void What_the_figures_rest_on_is_said_once_for_all_that_rest_on_it()
    {
        var told = Answer.YearSentences(With(y => y with { Energy = y.Energy with { Assumed = Short } }));
        Assert.Equal($"The figures for a year of charging by cable and on the pad rest on {Short}.", told[^1]);
        Assert.Single(told, t => t.Contains(Short, StringComparison.Ordinal));
    }

    [Fact]
    public void A_price_that_is_missing_is_said_once()
    {
        var told = Answer.YearSentences(With(y => y with { Cost = Figure.None("no price was given") }));
        Assert.Equal("What a year of charging by cable and on the pad costs is not known: no price was given.", told[2]);
        Assert.StartsWith("A year of charging by cable uses ", told[0], StringComparison.Ordinal);
        Assert.EndsWith("at the wall.", told[1], StringComparison.Ordinal);
    }

    [Fact]
    public void Two_reasons_are_two_sentences()
    {
        int asked = 0;
        var told = Answer.YearSentences(With(y => y with { Energy = Figure.None($"reason {++asked}") }));
        Assert.Equal(
            ["How much energy a year of charging by cable uses is not known: reason 1.",
                "How much energy a year of charging on the pad uses is not known: reason 2."],
            told.Take(2));
    }

    private static AuditResult With(Func<YearResult, YearResult> change)
    {
        var result = new ReportFixture { SamplesPerLog = 60, IntervalS = 120, Runs = 2 }.Build();
        return result with
        {
            Methods = [.. result.Methods.Select(m => m with { Yearly = change(m.Yearly) })],
        };
    }
}
