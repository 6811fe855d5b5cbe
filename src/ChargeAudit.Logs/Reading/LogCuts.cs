using System.Text.Unicode;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Logs.Time;
using CsvHelper;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Where a log is cut into parts. A cut lies at the end of a line that many plain rows of rising time lead up to, and that one in a plain
/// step follows: whatever came before, a reader has nothing in hand there but the time of its last row. So the part after it can be read
/// without the part before. Both parts find the same cut, as it depends on the bytes near it alone.
/// </summary>
internal static class LogCuts
{
    // More rows than a reader holds back until it is known whether the clock was set.
    private const int RowsBefore = 48;
    private const int FirstLookBytes = 1 << 16;
    private const int MostBytes = 1 << 24;

    /// <summary>The place of a cut.</summary>
    /// <param name="Byte">First byte after it.</param>
    /// <param name="LastRawS">Time of the row before it, as read. [s]</param>
    public readonly record struct Cut(long Byte, double LastRawS);

    /// <summary>Why a log's rows cannot be read from the middle of it; null where they can.</summary>
    public static string? WhyNot(LogSource source, LogLayout layout)
    {
        var plan = layout.Plan!;
        return source switch
        {
            { Packed: true } => "it is packed, and what is packed can be read from its start only",
            { Format: not null } => "it is no plain text",
            { Reshape: not null } => "its rows hold a name and a value each, which are put together before they are summed",
            { Spool: not null } => "it is no file that can be read from any place",
            _ when plan.Encoding is TextEncoding.Utf16BigEndian or TextEncoding.Utf16LittleEndian => "its characters have two bytes",
            _ when plan.BlankRuns => "runs of blanks stand between its fields",
            _ when plan.Time.Zone is not null => "which of two hours a clock time means when summer ends shows in the rows before",
            _ when plan.Time.Form == TimeForm.ClockOfDay => "its clock times carry no date, so the day shows in the rows before",
            _ when plan.Time.Form == TimeForm.FixedInterval => "its rows carry no time, so it shows in the rows before",
            _ when plan.Time.RowsPerStamp > 0 => "several of its rows share one time stamp",
            _ => null,
        };
    }

    /// <summary>Finds a cut.</summary>
    /// <param name="source">The log.</param>
    /// <param name="layout">How it is understood.</param>
    /// <param name="bytes">Its length. [byte]</param>
    /// <param name="number">Which part ends there, from 1.</param>
    /// <param name="count">How many parts there are.</param>
    /// <returns>The cut; null where no such place lies between this part's share of the bytes and the next one's end.</returns>
    public static Cut? Find(LogSource source, LogLayout layout, long bytes, int number, int count)
    {
        long from = Share(bytes, number, count);
        long most = Math.Min(Share(bytes, number + 1, count) - from, MostBytes);
        using var file = source.OpenRaw();
        for (long room = Math.Min(FirstLookBytes, most); room > 0; room = Math.Min(4 * room, most))
        {
            byte[] window = new byte[room];
            file.Seek(from, SeekOrigin.Begin);
            int read = file.ReadAtLeast(window, window.Length, throwOnEndOfStream: false);
            if (In(window.AsSpan(0, read), layout) is { } cut)
            {
                return cut with { Byte = from + cut.Byte };
            }

            if (room == most)
            {
                return null;
            }
        }

        return null;
    }

    private static long Share(long bytes, int number, int count) => (long)((Int128)bytes * number / count);

    private static Cut? In(ReadOnlySpan<byte> window, LogLayout layout)
    {
        var plan = layout.Plan!;
        int start = window.IndexOf((byte)'\n') + 1;
        int end = window.LastIndexOf((byte)'\n') + 1;
        if (start == 0 || end <= start)
        {
            return null;
        }

        using var rows = SeparatedRows.Open(plan.Encoding.ToUtf8(new MemoryStream(window[start..end].ToArray())), plan.Separator);
        var time = new TimeReader(plan.Time, plan.Numbers);
        int rising = 0;
        bool lastIsPlain = false;
        double lastS = double.NaN;
        for (int line = start; line < end && TryNext(rows);)
        {
            ReadOnlySpan<byte> text = Line(window[line..end]);
            bool plain = TryRead(rows, text, plan, time, out double rawS, out bool odd);
            if (odd)
            {
                return null;
            }

            double stepS = rawS - lastS;
            bool plainStep = plain && stepS > 0 && stepS <= layout.PlainStepS;
            if (plainStep && lastIsPlain && rising >= RowsBefore)
            {
                return new Cut(line, lastS);
            }

            rising = !plain ? 0 : stepS > 0 ? rising + 1 : 1;
            (lastS, lastIsPlain) = (plain ? rawS : double.NaN, plainStep);
            line += text.Length + 1;
        }

        return null;
    }

    private static ReadOnlySpan<byte> Line(ReadOnlySpan<byte> text) => text[..text.IndexOf((byte)'\n')];

    private static bool TryNext(CsvReader rows)
    {
        try
        {
            return rows.Read();
        }
        catch (CsvFormatException)
        {
            // The reading of the rows reports the line.
            return false;
        }
    }

    // A row of which every field is read as it stands. A carriage return within a line begins a row that no line end announces.
    private static bool TryRead(CsvReader rows, ReadOnlySpan<byte> text, TextPlan plan, TimeReader time, out double rawS, out bool odd)
    {
        rawS = double.NaN;
        odd = text.TrimEnd((byte)'\r').Contains((byte)'\r');
        if (odd || rows.FieldCount != plan.FieldCount || text.Contains((byte)0)
            || (plan.Encoding == TextEncoding.Utf8 && !Utf8.IsValid(text))
            || !time.TryRead(rows.GetSpan(plan.Time.Index), plan.Time.ClockIndex < 0 ? default : rows.GetSpan(plan.Time.ClockIndex),
                out rawS))
        {
            return false;
        }

        foreach (var field in plan.Fields)
        {
            if (!NumberField.TryRead(rows.GetSpan(field.Index), plan.Numbers, out _))
            {
                return false;
            }
        }

        return true;
    }
}
