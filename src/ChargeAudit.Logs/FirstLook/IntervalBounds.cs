using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Where a row writes down both ends of its interval, or one end and a duration: how long the intervals are.</summary>
internal static class IntervalBounds
{
    // Intervals are of one length to within this share; nine of ten have to be where no end is written.
    private const double SameLength = 0.002;
    private const double RegularShare = 0.9;

    /// <summary>Lengths of the rows looked at, and which end the time column is.</summary>
    /// <param name="LengthsS">One for each row; none where a row has no second end. [s]</param>
    /// <param name="TimeIsEnd">Whether the time column is the interval's end.</param>
    public sealed record Found(double[] LengthsS, bool TimeIsEnd);

    /// <summary>Finds them.</summary>
    public static Found Find(ColumnFinder.Found found, Table table, TextPlan plan)
    {
        string time = plan.Time.Index >= 0 && plan.Time.Index < table.Header.Count ? table.Header[plan.Time.Index] : "";
        bool timeIsEnd = IsEnd(time);
        if (plan.Time.Index < 0 || plan.Time.ClockIndex >= 0)
        {
            return new Found([], timeIsEnd);
        }

        int Only(string kind) => Enumerable.Range(0, table.Header.Count)
            .FirstOrDefault(i => i != plan.Time.Index && HeaderWords.IsOnly(table.Header[i], kind), -1);
        double[] lengths = Lengths(table, plan, Only(timeIsEnd ? "start" : "end"), timeIsEnd);
        bool named = timeIsEnd || IsStart(time);
        return new Found(lengths.Length == 0 && named ? Durations(found, table, plan) : lengths, timeIsEnd);
    }

    /// <summary>Whether a header is called the start of something.</summary>
    public static bool IsStart(string header) => HeaderWords.IsOnly(header, "start") || HeaderWords.Holds(header, "start");

    /// <summary>Whether a header is called the end of something, and not its start.</summary>
    public static bool IsEnd(string header) => !IsStart(header) && (HeaderWords.IsOnly(header, "end") || HeaderWords.Holds(header, "end"));

    /// <summary>The one length of all.</summary>
    /// <exception cref="Metrology.Diagnostics.InputException">They differ.</exception>
    public static double OneLength(string path, double[] lengths, string what)
    {
        double middle = HighMedian.Of([.. lengths]);
        double other = lengths.FirstOrDefault(l => Math.Abs(l - middle) > SameLength * middle);
        return other > 0 ? throw LogErrors.IntervalsDiffer(path, what, middle, other) : middle;
    }

    /// <summary>The step between rows where nine of ten are alike; else 0. [s]</summary>
    public static double RegularStep(IReadOnlyList<SamplingFinder.Run> runs)
    {
        double[] steps = [.. runs.SelectMany(r => r.TimesS.Zip(r.TimesS.Skip(1), (a, b) => b - a))];
        double middle = steps.Length > 0 ? HighMedian.Of(steps) : 0;
        return steps.Count(s => Math.Abs(s - middle) <= SameLength * middle) >= RegularShare * steps.Length ? middle : 0;
    }

    // None where the other end cannot be read as the time is.
    private static double[] Lengths(Table table, TextPlan plan, int otherIndex, bool timeIsEnd)
    {
        if (otherIndex < 0)
        {
            return [];
        }

        Span<byte> room = stackalloc byte[FieldBytes.Room];
        List<double> lengths = [];
        foreach (string[] row in table.Runs[0].Where(r => r.Length > Math.Max(otherIndex, plan.Time.Index)))
        {
            var time = new TimeReader(plan.Time, plan.Numbers);
            var (from, to) = timeIsEnd ? (otherIndex, plan.Time.Index) : (plan.Time.Index, otherIndex);
            if (time.TryRead(FieldBytes.Of(row[from], room), [], out double startS)
                && time.TryRead(FieldBytes.Of(row[to], room), [], out double endS) && endS > startS)
            {
                lengths.Add(endS - startS);
            }
        }

        return lengths.Count >= 0.5 * table.Runs[0].Count ? [.. lengths] : [];
    }

    private static double[] Durations(ColumnFinder.Found found, Table table, TextPlan plan)
    {
        LogColumn? column = Array.Find(found.Columns, c => c.Index != plan.Time.Index && HeaderWords.Holds(c.Header, "duration")
            && UnitTable.TryFind(c.Unit, out Unit unit) && unit.Kind == UnitKind.Time);
        if (column is null)
        {
            return [];
        }

        Span<byte> room = stackalloc byte[FieldBytes.Room];
        List<double> lengths = [];
        foreach (string field in table.Column(column.Index))
        {
            if (NumberField.TryRead(FieldBytes.Of(field, room), plan.Numbers, out double length) && length > 0)
            {
                lengths.Add(column.Factor * length);
            }
        }

        return [.. lengths];
    }
}
