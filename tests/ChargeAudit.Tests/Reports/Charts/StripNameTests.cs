using ChargeAudit.Reports.Charts;

namespace ChargeAudit.Tests.Reports.Charts;

/// <summary>Where a name is written on a strip that marks cross.</summary>
public sealed class StripNameTests
{
    [Fact]
    public void Without_marks_it_has_the_whole_piece() => Assert.Equal((2, 10), StripName.Widest(2, 10, []));

    [Fact]
    public void It_takes_the_longest_stretch_between_marks() => Assert.Equal((4, 9), StripName.Widest(0, 10, [(9, 9.5), (3, 4)]));

    [Fact]
    public void Marks_outside_the_piece_take_nothing_of_it() => Assert.Equal((2, 10), StripName.Widest(2, 10, [(0, 1), (11, 12)]));

    [Fact]
    public void A_mark_over_everything_leaves_nothing()
    {
        var (from, to) = StripName.Widest(2, 10, [(1, 11)]);
        Assert.Equal(0, to - from);
    }
}
