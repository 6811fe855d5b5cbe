using ChargeAudit.Comparing.Fairness;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Tests.Reports.Text;

/// <summary>Doubts that several methods, runs or logs share are shown once, with the names of all.</summary>
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
            "A charge on the pad takes 0.9 h longer than by cable. Likewise for stand B. Likewise for pad 5 W, with 1.2 h in place of "
            + "0.9 h.",
            text);
        Assert.Equal(["cable-1", "pad-1", "stand B-1", "pad 5 W-1"], runs);
    }

    [Theory]
    [InlineData("With pad the battery started fuller than with cable.", "With cable the battery started fuller than with pad.")]
    [InlineData("pad has one run only.", "stand B has two runs only.")]
    [InlineData("stand B was fed by small and pad by large.", "stand B was fed by small and pad by medium.")]
    public void Sentences_that_differ_in_more_than_one_name_or_in_words_stay_apart(string one, string other) =>
        Assert.Equal([one, other], Doubts.OfFairness(With(new("a", one, []), new("a", other, []))).Select(d => d.Text));

    // Here "pad" is both a name and a common word; where it stands tells which.
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
        Assert.Equal(
            ["pad-1 counts twice. Likewise for pad-2.", "The price is unlikely."],
            Doubts.OfStudyAndLogs(result).Select(d => d.Text).Take(2));
        Assert.Equal(
            ["No hours were given for cable. Likewise for stand B."],
            Doubts.Of(result, ["A year has 8760 h."]).Where(d => d.Gravity == Gravity.Assumed).Select(d => d.Text));
    }

    // A log whose end is not seen is graver than one with a coarse step, whichever log comes first; a note on its columns is the least.
    [Fact]
    public void The_gravest_doubt_comes_first_whatever_it_is_about()
    {
        var plain = new ReportFixture { Pad = "pad" }.Build();
        var result = plain with
        {
            Doubts = [],
            Assumptions = ["A year has 8760 h."],
            Fairness = [new("other", "Two chargers.", []), new("cut", "The charge is cut short.", []) { Gravity = Gravity.Wrong }],
            Logs =
            [
                plain.Logs[0] with
                {
                    Doubts = [new(Gravity.Reading, "Column 3 is not used."), new(Gravity.Wide, "Readings come in steps of 1 W.")],
                    Faults = [new(FaultKind.ShortRow, 7, 7, 1, "left out")],
                },
                plain.Logs[1] with
                {
                    Doubts = ["The log ends while the device charges."],
                    Faults = [new(FaultKind.Stuck, 9, 12, 1, "the interval holds both")],
                },
            ],
        };
        var (first, second) = (result.Logs[0].Files[0], result.Logs[1].Files[0]);
        Assert.Equal(
            [$"{second}: The log ends while the device charges.", "The charge is cut short.",
                $"{second}, line 9: {Words.Fault(FaultKind.Stuck)} (1): the interval holds both.",
                $"{first}: Readings come in steps of 1 W.", "Two chargers.", "A year has 8760 h.", $"{first}: Column 3 is not used.",
                $"{first}, line 7: {Words.Fault(FaultKind.ShortRow)} (1): left out."],
            Doubts.Of(result).Select(d => d.Text).Where(t => !t.Contains("to adapter", StringComparison.Ordinal)));
    }

    // By hand: the least and the greatest of each figure that is not the first one's, with its unit; a date as a date.
    [Theory]
    [InlineData(new[] { "a: 2 W.", "b: 3 W.", "c: 1.5 W.", "d: 2 W." },
        "a and d: 2 W. Likewise for b and c, with 1.5 to 3 W in place of 2 W.")]
    [InlineData(new[] { "a: from -2 to 5 s.", "b: from 0 to 5 s." }, "a: from -2 to 5 s. Likewise for b, with 0 s in place of -2 s.")]
    [InlineData(new[] { "a: on 2026-03-02.", "b: on 2026-03-04.", "c: on 2026-03-03." },
        "a: on 2026-03-02. Likewise for b and c, with 2026-03-03 to 2026-03-04 in place of 2026-03-02.")]
    [InlineData(new[] { "a: 1 W at 5 s.", "a: 2 W at 9 s." }, "a: 1 W at 5 s. Likewise with 2 W in place of 1 W and 9 s in place of 5 s.")]
    [InlineData(new[] { "a: line 7, 1 200 rows.", "b: line 8, 12 345 rows." },
        "a: line 7, 1 200 rows. Likewise for b, with line 8 in place of line 7 and 12 345 rows in place of 1 200 rows.")]
    public void Figures_of_the_others_are_told(string[] said, string expected) =>
        Assert.Equal([expected], Told(said));

    // A digit in a name is no figure, and another unit is another sentence.
    [Theory]
    [InlineData("a: part P1 fails.", "b: part P2 fails.")]
    [InlineData("a: 2 W.", "b: 2 mW.")]
    public void Other_names_and_units_are_other_sentences(string one, string other) =>
        Assert.Equal([one, other], Told(one, other));

    // Each sentence begins with the name of its log, one letter.
    private static IEnumerable<string> Told(params string[] said) =>
        new Alike(With()).Groups([.. said.Select(s => new Alike.Named(s[..1], s[1..]))]).Select(g => g.Text);

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
