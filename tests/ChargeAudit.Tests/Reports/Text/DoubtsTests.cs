using ChargeAudit.Comparing.Fairness;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Tests.Reports.Text;

/// <summary>Doubts that several methods, runs or logs share are told once, with the names of all.</summary>
public sealed class DoubtsTests
{
    [Fact]
    public void What_holds_for_three_pads_is_told_once()
    {
        var result = With(
            new("a", "A charge on the pad takes 0.9 h longer than by cable.", ["cable-1", "pad-1"]),
            new("a", "A charge with stand B takes 0.9 h longer than by cable.", ["cable-1", "stand B-1"]),
            new("a", "A charge on pad 5 W takes 1.2 h longer than by cable.", ["cable-1", "pad 5 W-1"]));
        var (text, runs) = Assert.Single(Doubts.OfFairness(result));
        Assert.Equal(
            "A charge on the pad takes 0.9 h longer than by cable. Likewise for stand B. Likewise, with other figures, for pad 5 W.",
            text);
        Assert.Equal(["cable-1", "pad-1", "stand B-1", "pad 5 W-1"], runs);
    }

    [Theory]
    [InlineData("With pad the battery started fuller than with cable.", "With cable the battery started fuller than with pad.")]
    [InlineData("pad has one run only.", "stand B has two runs only.")]
    [InlineData("stand B was fed by small and pad by large.", "stand B was fed by small and pad by medium.")]
    public void Sentences_that_differ_in_more_than_one_name_or_in_words_stay_apart(string one, string other) =>
        Assert.Equal([one, other], Doubts.OfFairness(With(new("a", one, []), new("a", other, []))).Select(d => d.Text));

    // The pad is a name and a word here, and each name is told where it stands.
    [Fact]
    public void A_name_that_is_a_common_word_is_no_obstacle() => Assert.Equal(
        ["stand B takes less than cable, and a pad loses more. Likewise for pad."],
        Doubts.OfFairness(With(
            new("a", "stand B takes less than cable, and a pad loses more.", []),
            new("a", "pad takes less than cable, and a pad loses more.", []))).Select(d => d.Text));

    [Fact]
    public void Doubts_of_the_study_and_assumptions_are_told_once_as_well()
    {
        var result = With() with
        {
            Doubts = ["pad-1 counts twice.", "pad-2 counts twice.", "The price is unlikely."],
            Assumptions = ["No hours were given for cable.", "No hours were given for stand B.", "A year has 8760 h."],
        };
        Assert.Equal(["pad-1 counts twice. Likewise for pad-2.", "The price is unlikely."], Doubts.OfStudy(result).Take(2));
        Assert.Equal(["No hours were given for cable. Likewise for stand B."], Doubts.OfAssumptions(result, ["A year has 8760 h."]));
    }

    private static AuditResult With(params FairnessNote[] notes)
    {
        string[] pads = ["pad", "stand B", "pad 5 W"];
        var each = pads.Select(p => new ReportFixture { Pad = p }.Build()).ToList();
        return each[0] with
        {
            Methods = [each[0].Methods[0], .. each.Select(r => r.Methods[1])],
            Fairness = notes,
        };
    }
}
