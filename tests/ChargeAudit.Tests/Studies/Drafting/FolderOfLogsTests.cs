using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Tests.Studies.Drafting;

public sealed class FolderOfLogsTests
{
    [Theory]
    [InlineData("", "a.csv", "b.csv")]
    [InlineData("us", "us/a.csv", "us/b.csv")]
    [InlineData("", "cable/1.csv", "pad/1.csv")]
    [InlineData("/home/me/us", "/home/me/us/cable/1.csv", "/home/me/us/pad/1.csv")]
    [InlineData("/", "/a/1.csv", "/b/1.csv")]
    [InlineData("", "/a/1.csv", "b/1.csv")]
    public void Files_lie_in_the_folder_that_holds_them_all(string expected, params string[] files) => Assert.Equal(
        expected.Replace('/', Path.DirectorySeparatorChar),
        Drafter.FolderOf([.. files.Select(f => f.Replace('/', Path.DirectorySeparatorChar))]));
}
