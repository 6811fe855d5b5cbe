using ChargeAudit.Metrology;
using ChargeAudit.Tests.Reports;

namespace ChargeAudit.Tests.Docs;

/// <summary>docs/numbers-and-dates.md shows every form as the program writes it.</summary>
public sealed class NumbersAndDatesPageTests
{
    [Fact]
    public void The_table_holds_every_tag_with_its_number_and_its_date()
    {
        string[] rows = [.. File.ReadLines(Golden.RepositoryFile("docs", "numbers-and-dates.md"))
            .Where(l => l.StartsWith("| `", StringComparison.Ordinal))];
        string[] shown = [.. rows.SelectMany(r => r.Split('|')[1].Split(',').Select(t => t.Trim(' ', '`')))];
        Assert.Equal(WrittenForm.All.Select(f => f.Tag).Order(StringComparer.Ordinal), shown.Order(StringComparer.Ordinal));
        foreach (var form in WrittenForm.All)
        {
            string row = rows.Single(r => r.Contains($"`{form.Tag}`", StringComparison.Ordinal));
            string[] cells = [.. row.Split('|').Select(c => c.Trim(' '))];
            using var used = form.Use();
            Assert.Equal(WrittenMarks.Shown(Prose.Of($"{12345.6}")), cells[4]);
            Assert.Equal(WrittenMarks.Shown(Prose.Of($"{new DateOnly(2026, 3, 4):yyyy-MM-dd}")), cells[5]);
        }
    }
}
