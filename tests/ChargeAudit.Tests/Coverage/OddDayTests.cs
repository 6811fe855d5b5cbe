using ChargeAudit.LogMaker.OddDays;

namespace ChargeAudit.Tests.Coverage;

/// <summary>Odd days: the energy is right within a per cent, or a sentence names the trouble.</summary>
public class OddDayTests
{
    public static TheoryData<string> Names => [.. OddDayCatalogue.All.Select(d => d.Name)];

    [Fact]
    public void There_are_at_least_thirty_and_no_name_twice() =>
        Assert.True(OddDayCatalogue.All.Select(d => d.Name).Distinct().Count() == OddDayCatalogue.All.Count
            && OddDayCatalogue.All.Count >= 30);

    [Theory]
    [MemberData(nameof(Names))]
    public void An_odd_day_is_right_or_its_trouble_is_said(string name)
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-odd-").FullName;
        try
        {
            OddDayVerdict verdict = AuditOfOddDay.Of(OddDayCatalogue.All.Single(d => d.Name == name), folder);
            Assert.True(verdict.Passes, OddDayVerdict.ToMarkdown([verdict]) + string.Join('\n', verdict.Said));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
