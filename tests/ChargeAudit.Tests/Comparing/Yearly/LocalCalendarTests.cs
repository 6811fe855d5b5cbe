using ChargeAudit.Comparing.Yearly;

namespace ChargeAudit.Tests.Comparing.Yearly;

public class LocalCalendarTests
{
    // Rules of the zones as their governments publish them: clocks change on the last Sundays of March and October in the EU, on the second
    // Sunday of March and the first of November in the USA, by half an hour on Lord Howe Island.
    [Theory]
    [InlineData("Europe/Lisbon", 2026, 3, 29, 23)]
    [InlineData("Europe/Lisbon", 2026, 10, 25, 25)]
    [InlineData("Europe/Lisbon", 2026, 10, 24, 24)]
    [InlineData("America/New_York", 2026, 3, 8, 23)]
    [InlineData("America/New_York", 2026, 11, 1, 25)]
    [InlineData("Asia/Tokyo", 2026, 3, 29, 24)]
    [InlineData("Australia/Lord_Howe", 2026, 4, 5, 24.5)]
    [InlineData("Australia/Lord_Howe", 2026, 10, 4, 23.5)]
    public void Days_on_which_clocks_are_set_are_shorter_or_longer(string zone, int year, int month, int day, double hours) =>
        Assert.Equal(
            hours,
            LocalCalendar.QuartersOf(year, LocalCalendar.Zone(zone, "timezone"))
                .Count(q => DateOnly.FromDateTime(q.Local) == new DateOnly(year, month, day)) / 4.0);

    [Theory]
    [InlineData("Europe/Lisbon", 2026, 8760)]
    [InlineData("America/New_York", 2028, 8784)]
    [InlineData("Asia/Beirut", 2026, 8760)] // clocks change at midnight there
    public void A_year_has_its_hours_in_every_zone(string zone, int year, int hours)
    {
        var quarters = LocalCalendar.QuartersOf(year, LocalCalendar.Zone(zone, "timezone")).ToList();
        Assert.Equal(hours * 4, quarters.Count);
        Assert.All(quarters, q => Assert.Equal(year, q.Local.Year));
        Assert.All(quarters, q => Assert.InRange(q.OfWeek, 0, 671));
    }
}
