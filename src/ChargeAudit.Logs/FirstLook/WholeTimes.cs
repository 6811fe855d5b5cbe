using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Logs.Time;
using CsvHelper;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Reads the times of all rows of a short log, so that its median interval is that of the log and not that of a sample.</summary>
internal static class WholeTimes
{
    /// <summary>Logs up to this size are looked at whole; the cost is a few milliseconds.</summary>
    public const long LargestBytes = 4 << 20;

    /// <summary>Times as read, in the order of rows; null where the log is longer than that.</summary>
    public static double[]? Read(LogSource source, TextPlan plan)
    {
        using Stream raw = source.OpenRaw();
        if (raw.Length > LargestBytes || plan.Time.Form == TimeForm.FixedInterval)
        {
            return null;
        }

        using Stream text = plan.Encoding.ToUtf8(source.OpenText(raw));
        using Stream plain = plan.BlankRuns ? new SpaceRunStream(text) : text;
        using CsvReader rows = SeparatedRows.Open(plain, plan.Separator, source.Packed || source.Converts ? long.MaxValue : raw.Length);
        var time = new TimeReader(plan.Time, plan.Numbers);
        List<double> times = [];
        long line = 0;
        try
        {
            while (rows.Read() && rows.ByteOffset < 4 * LargestBytes)
            {
                if (++line < plan.FirstDataLine || rows.FieldCount < plan.FewestFields)
                {
                    continue;
                }

                if (time.TryRead(rows.GetSpan(plan.Time.Index), plan.Time.ClockIndex < 0
                    ? default
                    : rows.GetSpan(plan.Time.ClockIndex), out double rawS))
                {
                    times.Add(rawS);
                }
            }
        }
        catch (CsvFormatException)
        {
            // The reading that follows meets the same line and says so.
            return null;
        }

        return [.. times];
    }
}
