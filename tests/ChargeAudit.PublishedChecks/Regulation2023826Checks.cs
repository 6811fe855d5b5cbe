using ChargeAudit.Comparing.Procedures;

namespace ChargeAudit.PublishedChecks;

/// <summary>Commission Regulation (EU) 2023/826: off mode 0.50 W from 9 May 2025, 0.30 W from 9 May 2027; stand-by 0.50 W, with a display
/// 0.80 W.</summary>
public class Regulation2023826Checks
{
    [Theory]
    [InlineData("eu-2023-826/off", "2025-05-09", 0.50)]
    [InlineData("eu-2023-826/off", "2027-05-08", 0.50)]
    [InlineData("eu-2023-826/off", "2027-05-09", 0.30)]
    [InlineData("eu-2023-826/standby", "2026-01-01", 0.50)]
    [InlineData("eu-2023-826/standby-display", "2026-01-01", 0.80)]
    public void Limits_by_date(string id, string day, double limitW) =>
        Assert.Equal(limitW,
            Yardsticks.At(id, 0, DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture))!.LimitAt(0)!.Value, 1e-12);

    [Fact]
    public void Nothing_applies_before_its_date_and_pads_are_said_to_be_outside()
    {
        Assert.Null(Yardsticks.At("eu-2023-826/off", 0, new DateOnly(2025, 5, 8)));
        Assert.Contains("not in the list", Yardsticks.At("eu-2023-826/standby", 0)!.Note, StringComparison.Ordinal);
    }
}
