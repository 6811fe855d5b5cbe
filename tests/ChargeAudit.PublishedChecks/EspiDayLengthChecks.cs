using ChargeAudit.Comparing.Yearly;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// NAESB REQ.21 ESPI: the public test file test_usage_data.xml (repository OpenESPI-Common-java, Apache-2.0) holds a block that starts at
/// 1331442000 s since 1970 (11 March 2012, 00:00 at −5 h) and lasts 82 800 s in 92 quarters of an hour: the day on which clocks in the
/// eastern USA go forward. The first block, from 1330578000 s on, is a plain day of 86 400 s and 96 quarters.
/// </summary>
public class EspiDayLengthChecks
{
    [Theory]
    [InlineData(1331442000, 82_800, 92)]
    [InlineData(1330578000, 86_400, 96)]
    public void A_local_day_has_the_length_of_its_block(long startUnixS, double lengthS, int quarters)
    {
        var zone = LocalCalendar.Zone("America/New_York", "timezone");
        var start = DateTimeOffset.FromUnixTimeSeconds(startUnixS).UtcDateTime;
        var day = DateOnly.FromDateTime(LocalCalendar.At(start, zone).Local);
        int found = LocalCalendar.QuartersOf(day.Year, zone).Count(q => DateOnly.FromDateTime(q.Local) == day);
        Assert.Equal(quarters, found);
        Assert.Equal(lengthS, found * 900);
    }
}
