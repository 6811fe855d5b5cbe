using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Files that one meter wrote one after another are one log.</summary>
internal static class FollowingLogs
{
    /// <summary>A hole longer than this, or than five usual intervals, separates two recordings. [s]</summary>
    private const double LongestHoleS = 10;

    /// <summary>Joins the logs that follow one another without a hole.</summary>
    /// <param name="logs">Logs of single files.</param>
    /// <param name="measure">Measures several files as one log.</param>
    public static List<LogFacts> Joined(IReadOnlyList<LogFacts> logs, Func<IReadOnlyList<string>, LogFacts> measure)
    {
        var joined = new List<LogFacts>(logs.Where(l => l.Start is null && l.ClockOfDayS is null));
        foreach (var sameMeter in logs.Where(l => l.Start is null && l.ClockOfDayS is not null).GroupBy(l => l.Dialect))
        {
            LogFacts? last = null;
            foreach (var log in sameMeter.OrderBy(l => l.File, StringComparer.Ordinal))
            {
                if (last is not null && BeginsAtMidnightAfter(last, log) && Together(last, log, measure) is { } whole)
                {
                    joined[^1] = last = whole;
                }
                else
                {
                    joined.Add(last = log);
                }
            }
        }

        foreach (var sameMeter in logs.Where(l => l.Start is not null).GroupBy(l => (l.Dialect, l.StartIsLocal)))
        {
            LogFacts? last = null;
            foreach (var log in sameMeter.OrderBy(l => l.Start))
            {
                if (last is not null && Follows(last, log) && Together(last, log, measure) is { } whole)
                {
                    joined[^1] = last = whole;
                }
                else
                {
                    joined.Add(last = log);
                }
            }
        }

        return [.. joined.OrderBy(l => l.File, StringComparer.Ordinal)];
    }

    private static bool Follows(LogFacts first, LogFacts second)
    {
        double hole = (second.Start!.Value - first.End!.Value).TotalSeconds;
        return hole > -2 * first.IntervalS && hole <= Math.Max(LongestHoleS, 5 * first.IntervalS) && SameKind(first, second);
    }

    // One file a day: without dates, files in the order of their names belong together where the one ends and the next begins at midnight.
    private static bool BeginsAtMidnightAfter(LogFacts first, LogFacts second)
    {
        const double DayS = 86_400;
        double longestS = Math.Max(LongestHoleS, 5 * first.IntervalS);
        double endS = (first.ClockOfDayS!.Value + first.DurationS) % DayS;
        return second.ClockOfDayS <= longestS && DayS - endS + second.ClockOfDayS <= longestS && SameKind(first, second);
    }

    private static bool SameKind(LogFacts a, LogFacts b)
    {
        var (x, y) = (NameWords.Of(a.File), NameWords.Of(b.File));
        return x.Kind == y.Kind && x.Point == y.Point;
    }

    private static LogFacts? Together(LogFacts first, LogFacts second, Func<IReadOnlyList<string>, LogFacts> measure)
    {
        try
        {
            return measure([.. first.Files, .. second.Files]);
        }
        catch (InputException)
        {
            // What cannot be read as one log stays two.
            return null;
        }
    }
}
