using ChargeAudit.Cli.Page;

namespace ChargeAudit.Tests.Cli.Page;

/// <summary>How much the local page accepts, and under which names.</summary>
public sealed class PageLimitsTests
{
    private const long MiB = 1024 * 1024;

    [Fact]
    public void A_file_of_64_MB_is_taken_and_one_byte_more_is_not()
    {
        Assert.Null(PageLimits.Usual.TooLarge(64 * MiB, 0));
        Assert.Contains("64 MB", PageLimits.Usual.TooLarge((64 * MiB) + 1, 0), StringComparison.Ordinal);
        Assert.NotNull(PageLimits.Usual.TooLarge(long.MaxValue, 256 * MiB));
    }

    [Fact]
    public void All_files_take_256_MB_and_one_byte_more_is_not_taken()
    {
        Assert.Null(PageLimits.Usual.TooLarge(56 * MiB, 200 * MiB));
        Assert.Contains("256 MB", PageLimits.Usual.TooLarge((56 * MiB) + 1, 200 * MiB), StringComparison.Ordinal);
    }

    [Fact]
    public void The_64th_file_is_taken_and_the_65th_is_not()
    {
        Assert.Null(PageLimits.Usual.TooMany(63));
        Assert.Contains("64", PageLimits.Usual.TooMany(64), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("pad-1.csv", "pad-1.csv")]
    [InlineData("..%2F..%2Fetc%2Fpasswd", "passwd")]
    [InlineData("..%5C..%5Cboot.csv", "boot.csv")]
    [InlineData("..", "log")]
    [InlineData("a%00b%0D%0A.csv", "ab.csv")]
    [InlineData("%E2%80%AEvsc.csv", "vsc.csv")]
    [InlineData("", "log")]
    [InlineData(null, "log")]
    [InlineData("%3Cscript%3E.csv", "<script>.csv")]
    public void A_name_for_people_is_no_path_and_holds_nothing_that_cannot_be_seen(string? sent, string name) =>
        Assert.Equal(name, PageName.Of(sent, []));

    [Fact]
    public void A_name_that_is_taken_gets_a_number_and_a_long_one_is_cut()
    {
        Assert.Equal("a (3).csv", PageName.Of("a.csv", ["a.csv", "a (2).csv"]));
        string name = PageName.Of(new string('x', 5000) + ".csv", []);
        Assert.True(name.Length < 130 && name.EndsWith("….csv", StringComparison.Ordinal), name);
    }

    [Theory]
    [InlineData("a.csv", ".csv")]
    [InlineData("a.XLSX", ".xlsx")]
    [InlineData("a.exe", ".txt")]
    [InlineData("a", ".txt")]
    public void Only_the_ending_of_a_log_reaches_the_disk(string name, string ending) => Assert.Equal(ending, PageName.Ending(name));
}
