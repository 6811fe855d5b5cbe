using System.Text.Json;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Metrology;

/// <summary>Numbers and dates as readers of a country have them. Expected values are common practice in each country, written by
/// hand.</summary>
public sealed class WrittenFormTests
{
    [Theory]
    [InlineData("de", "1234,5", "12.345,6", "-1.234.567", "04.03.2026")]
    [InlineData("de-AT", "1234,5", "12\u00a0345,6", "-1\u00a0234\u00a0567", "04.03.2026")]
    [InlineData("de-CH", "1234.5", "12\u2019345.6", "-1\u2019234\u2019567", "04.03.2026")]
    [InlineData("fr", "1234,5", "12\u202f345,6", "-1\u202f234\u202f567", "04/03/2026")]
    [InlineData("fr-CA", "1234,5", "12\u00a0345,6", "-1\u00a0234\u00a0567", "2026-03-04")]
    [InlineData("en-GB", "1234.5", "12,345.6", "-1,234,567", "04/03/2026")]
    [InlineData("en-US", "1234.5", "12,345.6", "-1,234,567", "03/04/2026")]
    [InlineData("sv", "1234,5", "12\u00a0345,6", "-1\u00a0234\u00a0567", "2026-03-04")]
    [InlineData("nl", "1234,5", "12.345,6", "-1.234.567", "04-03-2026")]
    [InlineData("fi", "1234,5", "12\u00a0345,6", "-1\u00a0234\u00a0567", "4.3.2026")]
    [InlineData("hu", "1234,5", "12\u00a0345,6", "-1\u00a0234\u00a0567", "2026.03.04.")]
    [InlineData("ja", "1234.5", "12,345.6", "-1,234,567", "2026/03/04")]
    public void Each_form_has_its_decimal_mark_groups_and_order_of_a_date(
        string tag, string small, string large, string whole, string date)
    {
        using var used = WrittenForm.Find(tag)!.Use();
        Assert.Equal(small, Shown(Prose.Of($"{1234.5:0.0}")));
        Assert.Equal(large, Shown(Prose.Of($"{12345.6m}")));
        Assert.Equal(whole, Shown(Prose.Of($"{-1234567.0:F0}")));
        Assert.Equal(date, Shown(Prose.Of($"{new DateOnly(2026, 3, 4):yyyy-MM-dd}")));
        Assert.Equal(whole[1..], Shown(WrittenMarks.Count(1234567)));
        Assert.Equal("1234", Shown(WrittenMarks.Count(1234)));
        Assert.Equal("1\u00a0234", WrittenMarks.Exact(WrittenMarks.Count(1234)));
    }

    [Theory]
    [InlineData("de_CH.UTF-8", "de-CH")]
    [InlineData("DE-lu", "de")]
    [InlineData("en-ZW", "en")]
    [InlineData("nb_NO@euro", "nb")]
    [InlineData("xx", null)]
    [InlineData("", null)]
    [InlineData("d", null)]
    public void A_tag_falls_back_to_its_language_and_may_be_a_system_s_name(string tag, string? expected) =>
        Assert.Equal(expected, WrittenForm.Find(tag)?.Tag);

    [Fact]
    public void Names_times_whole_numbers_and_exact_texts_stay_as_they_are()
    {
        using var used = WrittenForm.Find("de")!.Use();
        string name = "pad 7.5 W of 2026-03-04 v1.2.csv";
        Assert.Equal($"{name} takes 1,5 times, line 123456, from 10:30",
            Shown(Prose.Of($"{name} takes {1.5} times, line {123456}, from {new TimeOnly(10, 30):HH:mm}")));
        Assert.Equal("--price 0.25", Shown(InvariantText.Of($"--price {0.25}")));
        Assert.Equal("04.03.2026 10:20:30+01:00", Shown(WrittenMarks.Date("2026-03-04 10:20:30+01:00")));
        Assert.Equal("1,5 of 04.03.2026 to 05.03.2026",
            Shown(Prose.Of($"{1.5} of {new DateOnly(2026, 3, 4):yyyy-MM-dd} to {new DateOnly(2026, 3, 5):yyyy-MM-dd}")));
    }

    [Fact]
    public void For_programs_a_text_reads_as_if_no_form_had_been_in_use()
    {
        var random = new Random(20260304);
        for (int i = 0; i < 2000; i++)
        {
            double value = Math.Round((random.NextDouble() - 0.5) * Math.Pow(10, random.Next(-4, 9)), random.Next(0, 6));
            var day = new DateOnly(2000, 1, 1).AddDays(random.Next(20000));
            string usual = Prose.Of($"\"{value}\" \\ufdd0 on {day:yyyy-MM-dd}, {WrittenMarks.Count(i * 1000L)}");
            using var used = WrittenForm.All[random.Next(WrittenForm.All.Count)].Use();
            string marked = Prose.Of($"\"{value}\" \\ufdd0 on {day:yyyy-MM-dd}, {WrittenMarks.Count(i * 1000L)}");
            Assert.Equal(usual, WrittenMarks.Exact(marked));
            Assert.Equal(usual, JsonSerializer.Deserialize<string>(WrittenMarks.ExactJson(JsonSerializer.Serialize(marked))));
            Assert.Equal(Shown(marked), JsonSerializer.Deserialize<string>(WrittenMarks.ShownJson(JsonSerializer.Serialize(marked))));
        }
    }

    [Fact]
    public async Task A_form_is_in_use_in_its_own_flow_of_work_until_it_is_left()
    {
        using (WrittenForm.Find("fr")!.Use())
        {
            Assert.Equal("0,5", await Task.Run(() => Shown(Prose.Of($"{0.5}")), TestContext.Current.CancellationToken));
            using (WrittenForm.UseDirectly())
            {
                Assert.Equal("0,5 04/03/2026", Prose.Of($"{0.5} {new DateOnly(2026, 3, 4):yyyy-MM-dd}"));
            }

            Assert.NotEqual("0,5", Prose.Of($"{0.5}"));
        }

        Assert.Null(WrittenForm.Current);
        Assert.Equal("12345.5 2026-03-04", Prose.Of($"{12345.5} {new DateOnly(2026, 3, 4):yyyy-MM-dd}"));
    }

    [Fact]
    public void No_form_can_be_misread()
    {
        Assert.Equal(WrittenForm.All.Count, WrittenForm.All.Select(f => f.Tag).Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.All(WrittenForm.All, f =>
        {
            Assert.NotEqual(f.DecimalMark, f.GroupMark);
            Assert.Equal(new DateOnly(2026, 12, 31), DateOnly.ParseExact(f.Day(new(2026, 12, 31)), f.Date, null));
            Assert.Matches("^[yMd./-]+$", f.Date);
        });
    }

    private static string Shown(string text) => WrittenMarks.Shown(text);
}
