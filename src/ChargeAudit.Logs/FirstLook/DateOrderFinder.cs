using System.Text;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Time;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Decides from all dates of the sample whether day or month comes first.</summary>
internal static class DateOrderFinder
{
    /// <summary>Decides, or refuses the log as ambiguous.</summary>
    public static DateOrder Find(string path, Table table, int index, List<string> notes)
    {
        bool open = false;
        bool dayFirst = true;
        bool monthFirst = true;
        string? example = null;
        var days = new List<(long DayFirst, long MonthFirst)>();
        foreach (string field in table.Column(index).Where(f => f.Length > 0))
        {
            byte[] bytes = Encoding.UTF8.GetBytes(field);
            var asDay = new ByteCursor(bytes);
            var asMonth = new ByteCursor(bytes);
            bool day = DateField.TryRead(ref asDay, DateOrder.DayFirst, out long dayTicks, out bool dayOpen);
            bool month = DateField.TryRead(ref asMonth, DateOrder.MonthFirst, out long monthTicks, out bool monthOpen);
            if (!day && !month)
            {
                continue;
            }

            dayFirst &= day;
            monthFirst &= month;
            if (dayOpen || monthOpen)
            {
                open = true;
                example ??= field;
            }

            if (day && month && (days.Count == 0 || days[^1] != (dayTicks, monthTicks)))
            {
                days.Add((dayTicks, monthTicks));
            }
        }

        if (dayFirst != monthFirst)
        {
            return dayFirst ? DateOrder.DayFirst : DateOrder.MonthFirst;
        }

        if (!open)
        {
            return DateOrder.DayFirst;
        }

        // The dates of one log follow one another: read the wrong way round, midnight is a jump of a month.
        long daySpan = days.Zip(days.Skip(1), (a, b) => Math.Abs(b.DayFirst - a.DayFirst)).Sum();
        long monthSpan = days.Zip(days.Skip(1), (a, b) => Math.Abs(b.MonthFirst - a.MonthFirst)).Sum();
        if (daySpan != monthSpan)
        {
            notes.Add(
                $"Dates such as {LogErrors.Quote(example!)} were read {(daySpan < monthSpan ? "day" : "month")} first, as the days then "
                + "follow one another.");
            return daySpan < monthSpan ? DateOrder.DayFirst : DateOrder.MonthFirst;
        }

        if (example!.Contains('.', StringComparison.Ordinal) && !example.Contains('/', StringComparison.Ordinal)
            && example.IndexOf('.', StringComparison.Ordinal) <= 2)
        {
            notes.Add($"Dates such as {LogErrors.Quote(example)} were read day first, as dates with points are written.");
            return DateOrder.DayFirst;
        }

        throw LogErrors.AmbiguousDate(path, example);
    }
}
