using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Values that only use and tariff have: weekdays, clock times, days of a year, ranges.</summary>
internal static class YearValues
{
    private static readonly (string Word, DayOfWeek[] Days)[] DayWords =
    [
        ("mon", [DayOfWeek.Monday]), ("tue", [DayOfWeek.Tuesday]), ("wed", [DayOfWeek.Wednesday]), ("thu", [DayOfWeek.Thursday]),
        ("fri", [DayOfWeek.Friday]), ("sat", [DayOfWeek.Saturday]), ("sun", [DayOfWeek.Sunday]),
        ("workdays", [DayOfWeek.Monday, DayOfWeek.Tuesday, DayOfWeek.Wednesday, DayOfWeek.Thursday, DayOfWeek.Friday]),
        ("weekend", [DayOfWeek.Saturday, DayOfWeek.Sunday]),
    ];

    /// <summary>Weekdays, each by its first three letters, or workdays, or weekend; none where the key is absent.</summary>
    public static IReadOnlyList<DayOfWeek> Days(TomlTableReader table, string key)
    {
        var days = new List<DayOfWeek>();
        foreach (string word in table.Texts(key))
        {
            var found = DayWords.FirstOrDefault(d => d.Word == word).Days ?? throw table.Refuse(
                table.LineOf(key), $"{table.PathOf(key)} holds \"{word}\"; days are {string.Join(", ", DayWords.Select(d => d.Word))}");
            days.AddRange(found);
        }

        return [.. days.Distinct()];
    }

    /// <summary>A clock time such as <c>22:30</c>; <c>24:00</c> is the end of the day.</summary>
    public static TimeOnly? Time(TomlTableReader table, string key)
    {
        if (table.Text(key) is not { } text)
        {
            return null;
        }

        return text == "24:00" ? TimeOnly.MinValue
            : TimeOnly.TryParseExact(text, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? time
            : throw table.Refuse(table.LineOf(key), $"{table.PathOf(key)} is \"{text}\"; a time of day such as \"22:30\" was expected");
    }

    /// <summary>A day of any year such as <c>11-01</c> (1 November).</summary>
    public static MonthDay? MonthDay(TomlTableReader table, string key)
    {
        if (table.Text(key) is not { } text)
        {
            return null;
        }

        return DateOnly.TryParseExact("2000-" + text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? new MonthDay(day.Month, day.Day)
            : throw table.Refuse(table.LineOf(key), $"{table.PathOf(key)} is \"{text}\"; a month and a day such as \"11-01\" was expected");
    }

    /// <summary>Dates such as <c>2027-01-01</c>, in quotes.</summary>
    public static IReadOnlyList<DateOnly> Dates(TomlTableReader table, string key) =>
    [
        .. table.Texts(key)
            .Select(text => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)
            ? day
            : throw table.Refuse(table.LineOf(key), $"{table.PathOf(key)} holds \"{text}\"; dates such as \"2027-01-01\" were expected")),
    ];

    /// <summary>Two limits in a list, the lower one first.</summary>
    public static NumberRange? Range(TomlTableReader table, string key)
    {
        var numbers = Numbers(table, key);
        return numbers.Count switch
        {
            0 => null,
            2 when numbers[0] <= numbers[1] => new NumberRange(numbers[0], numbers[1]),
            _ => throw table.Refuse(table.LineOf(key), $"{table.PathOf(key)} must hold two numbers, the lower one first, such as [5, 9]"),
        };
    }

    /// <summary>A number, or a list of numbers; none where the key is absent.</summary>
    public static IReadOnlyList<double> Numbers(TomlTableReader table, string key)
    {
        if (!table.TryGet(key, out var node))
        {
            return [];
        }

        return node.Value switch
        {
            double one => [one],
            List<TomlNode> many when many.All(n => n.Value is double) => [.. many.Select(n => (double)n.Value)],
            _ => throw table.Refuse(node.Line, $"{table.PathOf(key)} is {node.Description}; a number, or a list of numbers, was expected"),
        };
    }

    /// <summary>A whole number between two limits.</summary>
    public static int? Whole(TomlTableReader table, string key, int least, int greatest) => table.Number(key, least, greatest) is { } number
        ? number == Math.Floor(number)
            ? (int)number
            : throw table.Refuse(table.LineOf(key), InvariantText.Of($"{table.PathOf(key)} is {number}; a whole number was expected"))
        : null;
}
