using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

public sealed class PlainWordsTests
{
    [Theory]
    [InlineData("gap", "gap")]
    [InlineData("offset x and gap", "offset x", "gap")]
    [InlineData("offset x, offset y and gap", "offset x", "offset y", "gap")]
    public void Names_in_a_sentence_have_an_and_before_the_last(string expected, params string[] names) =>
        Assert.Equal(expected, PlainWords.Listed(names));
}
