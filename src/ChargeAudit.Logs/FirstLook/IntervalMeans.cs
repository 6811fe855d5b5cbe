using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Readings that stand beside both ends of an interval, or beside one end that is called so and are called a mean, are means of that
/// interval. Taken for instants they would be spread into the neighbouring rows, and the last row would have no length.
/// </summary>
internal static class IntervalMeans
{
    /// <summary>Decides; columns stay as they are.</summary>
    /// <returns>Null where the log says nothing of intervals, or the user what its readings are.</returns>
    public static IntervalRows? Settle(string path, ColumnFinder.Found found, Table table, TextPlan plan,
        IReadOnlyList<SamplingFinder.Run> runs, LogOptions options)
    {
        LogColumn[] read =
        [
            .. found.Columns.Where(c => c.Quantity is LogQuantity.Power or LogQuantity.ApparentPower or LogQuantity.Voltage
                or LogQuantity.Current),
        ];
        if (read.Length == 0 || options.Samples is not null || options.ChangeThreshold is not null || plan.Time.Index < 0
            || plan.Time.Index >= table.Header.Count || !Array.Exists(read, c => c.Quantity != LogQuantity.Voltage))
        {
            return null;
        }

        IntervalBounds.Found bounds = IntervalBounds.Find(found, table, plan);
        string time = table.Header[plan.Time.Index];
        bool oneEnd = IntervalBounds.IsStart(time) || IntervalBounds.IsEnd(time);
        bool said = HeaderWords.Holds(time, "per") || Array.Exists(read, c => HeaderWords.Holds(c.Header, "mean"));
        if (bounds.LengthsS.Length == 0 && !(oneEnd && said))
        {
            return null;
        }

        double lengthS = bounds.LengthsS.Length > 0
            ? IntervalBounds.OneLength(path, bounds.LengthsS, "means")
            : IntervalBounds.RegularStep(runs);
        SampleKind kind = bounds.TimeIsEnd ? SampleKind.AverageEnding : SampleKind.AverageStarting;
        found.Notes.Add($"Readings were taken for means of the interval that {(bounds.TimeIsEnd ? "ends" : "starts")} at "
            + $"{LogErrors.Quote(time)}: {(bounds.LengthsS.Length > 0 ? "each row has both ends" : "the header says so")}.");
        return new IntervalRows(kind, lengthS, AreMeans: true);
    }
}
