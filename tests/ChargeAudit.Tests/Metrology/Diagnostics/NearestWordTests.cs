using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Metrology.Diagnostics;

public sealed class NearestWordTests
{
    [Theory]
    [InlineData("aduit", "audit")]
    [InlineData("--pint", "--point")]
    [InlineData("meter", "metre")]
    [InlineData("xyzzy", null)]
    [InlineData("", null)]
    public void The_nearest_word_is_found_where_one_is_near(string word, string? expected) =>
        Assert.Equal(expected, NearestWord.Of(word, ["audit", "--point", "--price", "metre", "simulate"]));
}
