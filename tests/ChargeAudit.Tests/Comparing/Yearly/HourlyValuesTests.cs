using System.Globalization;
using System.Text;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Yearly;

public class HourlyValuesTests
{
    private static readonly PriceFile File = new("prices.csv");

    private static HourlyValues Read(string text, string? zone = null, PriceUnit unit = PriceUnit.PerKwh)
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(text));
        return HourlyValues.Read(stream, File with { Unit = unit }, zone);
    }

    /// <summary>Hourly rows; the price of an hour is a number that a test can work out again.</summary>
    private static string Rows(DateTime fromUtc, int hours, Func<DateTime, double> price, Func<DateTime, string> stamp)
    {
        var text = new StringBuilder("time,price\n");
        for (int h = 0; h < hours; h++)
        {
            var at = fromUtc.AddHours(h);
            text.Append(stamp(at)).Append(',').Append(price(at).ToString(CultureInfo.InvariantCulture)).Append('\n');
        }

        return text.ToString();
    }

    private static double Price(DateTime utc) => 50 + (utc.Hour * 10) - (utc.DayOfWeek == DayOfWeek.Sunday ? 120 : 0);

    [Fact]
    public void A_year_of_hourly_prices_agrees_with_a_sum_hour_by_hour()
    {
        // Independent: power of each half-hour by the clock in Lisbon times the price of its UTC hour, added up over 2026.
        var zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/Lisbon");
        double expected = 0;
        for (var utc = new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc); utc.Year == 2026; utc = utc.AddMinutes(30))
        {
            var local = TimeZoneInfo.ConvertTimeFromUtc(utc, zone);
            int minutes = (local.Hour * 60) + local.Minute;
            double watts = minutes is >= 1320 or < 30 ? 7.2 : minutes < 360 ? 0.6 : 0.25;
            expected += watts * 0.5 / 1e6 * (Price(utc) + 100);
        }

        string text = Rows(new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc), 8760, Price,
            t => t.ToString("yyyy-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture));
        var tariff = new Tariff("EUR")
        {
            Hourly = File with { Unit = PriceUnit.PerMwh },
            TimeZone = "Europe/Lisbon",
            SurchargePerKwh = 0.1,
        };
        var prepared = PreparedTariff.Of(tariff, hourly: Read(text, "Europe/Lisbon", PriceUnit.PerMwh));
        var year = YearlyEnergy.Of(YearCases.Pad(new Use { HoursOnChargerPerCharge = 8 }, prepared));
        Assert.Equal(expected, year.Cost.Value!.Value, 9);
        Assert.Contains(year.Detail!.Assumptions, a => a.Contains("below zero", StringComparison.Ordinal));
    }

    [Fact]
    public void Local_times_of_a_year_with_both_changes_of_the_clock_are_the_same_hours()
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById("Europe/Lisbon");
        var from = new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc);
        string utc = Rows(from, 8760, Price, t => t.ToString("yyyy-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture));
        string local = Rows(from, 8760, Price, t => TimeZoneInfo.ConvertTimeFromUtc(t, zone)
            .ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture));
        Assert.Contains("2026-10-25 01:00:00", local, StringComparison.Ordinal);
        var a = Read(utc, "Europe/Lisbon");
        var b = Read(local, "Europe/Lisbon");
        Assert.Equal(0, b.MissingH);
        Assert.Equal(8760, b.CoveredH);
        double[] share = new double[WeekPlan.Quarters];
        for (int q = 0; q < share.Length; q++)
        {
            Array.Clear(share);
            share[q] = 1;
            Assert.Equal(a.Week.MeanOver(share), b.Week.MeanOver(share), 10);
        }
    }

    [Fact]
    public void Semicolons_go_with_decimal_commas()
    {
        var text = new StringBuilder("Zeit;Preis\n");
        for (int h = 0; h < 48; h++)
        {
            text.Append(CultureInfo.InvariantCulture, $"2026-01-{1 + (h / 24):00} {h % 24:00}:00;0,25\n");
        }

        var read = Read(text.ToString(), "Europe/Lisbon");
        Assert.Equal(0.25, read.Week.Greatest);
        Assert.Equal(48, read.CoveredH);
        Assert.Contains(read.Notes, n => n.Contains("covers 2 days, not a year", StringComparison.Ordinal));
    }

    [Fact]
    public void Missing_hours_are_counted_and_left_out_and_too_many_are_refused()
    {
        string all = Rows(new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc), 240, _ => 0.2,
            t => t.ToString("yyyy-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture));
        var lines = all.Split('\n').ToList();
        lines.RemoveRange(50, 5);
        var read = Read(string.Join('\n', lines));
        Assert.Equal(5, read.MissingH);
        Assert.Equal(235, read.CoveredH);
        Assert.Contains(read.Notes, n => n.Contains("no value for 5 h", StringComparison.Ordinal));
        lines.RemoveRange(80, 40);
        Assert.Contains("no value for 45 h", Assert.Throws<InputException>(() => Read(string.Join('\n', lines))).Message,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("2026-01-01T05:00Z,0.1.2", "line 7 holds '0.1.2' as the value")]
    [InlineData("2026-01-01T05:00Z,\"0,25\"", "line 7 holds '0,25' as the value")]
    [InlineData("2026-01-01T05:00Z", "line 7 has 1 fields")]
    [InlineData("soon,0.1", "line 7 holds 'soon' as the time")]
    [InlineData("2026-01-01T05:00,0.1", "line 7 holds '2026-01-01T05:00' as the time, expected a time with its offset")]
    [InlineData("2026-01-01T04:00Z,0.1", "which is not after that of the row above")]
    [InlineData("2026-01-01T05:07Z,0.1", "quarter of an hour")]
    public void A_bad_row_is_named_with_its_line(string row, string says)
    {
        var lines = Rows(new DateTime(2026, 1, 1, 0, 0, 0, DateTimeKind.Utc), 48, _ => 0.2,
            t => t.ToString("yyyy-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture)).Split('\n');
        lines[6] = row;
        var error = Assert.Throws<InputException>(() => Read(string.Join('\n', lines)));
        Assert.Contains("prices.csv", error.Message, StringComparison.Ordinal);
        Assert.Contains(says, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_file_is_named()
    {
        var error =
            Assert.Throws<InputException>(() =>
            HourlyValues.Read(Path.Combine(Path.GetTempPath(), "no-such-folder", "prices.csv"), File, null));
        Assert.Equal(InputProblem.Missing, error.Problem);
    }

    [Fact]
    public void Emissions_by_the_hour_weight_the_hours_of_each_mode()
    {
        string text = Rows(new DateTime(2026, 1, 5, 0, 0, 0, DateTimeKind.Utc), 168, t => t.Hour is >= 22 or < 6
            ? 100
            : 300, t => t.ToString("yyyy-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture));
        var carbon = PreparedCarbon.Of(new CarbonFactor(null, File), Read(text));
        var year = YearlyEnergy.Of(YearCases.Pad(new Use { HoursOnChargerPerCharge = 8 }) with { Carbon = carbon });
        Assert.Equal((0.1 * (6.57 + 1.2045)) + (0.3 * 1.46), year.Detail!.Co2.Value!.Value, 10);
        Assert.Equal("kg", year.Detail.Co2.Value.Unit);
        var flat = YearlyEnergy.Of(YearCases.Pad(new Use { HoursOnChargerPerCharge = 8 }) with
        {
            Carbon = PreparedCarbon.Of(new CarbonFactor(250)),
        });
        Assert.Equal(0.25 * 9.2345, flat.Detail!.Co2.Value!.Value, 10);
        Assert.Throws<InputException>(() => PreparedCarbon.Of(new CarbonFactor(null)));
    }
}
