using System.Buffers;
using System.Text;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.Dialects;

/// <summary>Takes lines apart and tells what single fields look like, for the first look; the reading itself is done on bytes.</summary>
internal static class Cells
{
    private static readonly SearchValues<char> ClockSigns = SearchValues.Create(":.hHmMT時时시");
    private static readonly NumberStyle Point = new((byte)'.', (byte)',');
    private static readonly NumberStyle Comma = new((byte)',', (byte)'.');

    /// <summary>Fields of a line; a blank stands for runs of blanks and tabs.</summary>
    public static string[] Split(ReadOnlySpan<char> line, char separator)
    {
        if (separator != ' ' && !line.Contains('"'))
        {
            string[] plain = new string[line.Count(separator) + 1];
            int at = 0;
            foreach (Range part in line.Split(separator))
            {
                plain[at++] = line[part].Trim().ToString();
            }

            return plain;
        }

        var fields = new List<string>();
        var field = new StringBuilder();
        bool quoted = false;
        bool wasQuoted = false;
        for (int i = 0; i < line.Length; i++)
        {
            char c = line[i];
            if (quoted)
            {
                if (c != '"')
                {
                    field.Append(c);
                }
                else if (i + 1 < line.Length && line[i + 1] == '"')
                {
                    field.Append('"');
                    i++;
                }
                else
                {
                    quoted = false;
                }
            }
            else if (c == '"' && field.Length == 0 && !wasQuoted)
            {
                quoted = true;
                wasQuoted = true;
            }
            else if (c == separator || (separator == ' ' && c == '\t'))
            {
                if (separator != ' ' || field.Length > 0 || wasQuoted)
                {
                    fields.Add(field.ToString().Trim());
                }

                field.Clear();
                wasQuoted = false;
            }
            else
            {
                field.Append(c);
            }
        }

        if (separator != ' ' || field.Length > 0 || wasQuoted)
        {
            fields.Add(field.ToString().Trim());
        }

        return [.. fields];
    }

    /// <summary>How many fields a line has.</summary>
    public static int Count(ReadOnlySpan<char> line, char separator) => separator != ' ' && !line.Contains('"')
        ? line.Count(separator) + 1
        : Split(line, separator).Length;

    /// <summary>Whether a field is a number in any style that the separator allows, with or without a unit.</summary>
    public static bool IsNumber(string field, char separator)
    {
        if (PlainNumber.Is(field, out _))
        {
            return true;
        }

        ReadOnlySpan<byte> bytes = FieldBytes.Of(field, stackalloc byte[FieldBytes.Room]);
        return NumberField.TryRead(bytes, Point, out _)
            || NumberField.TryReadWithUnit(bytes, Point, out _, out _)
            || (field.Contains(',', StringComparison.Ordinal)
                && (NumberField.TryRead(bytes, Comma, out _) || NumberField.TryReadWithUnit(bytes, Comma, out _, out _)))
            || (separator != ' ' && NumberField.TryRead(bytes, new NumberStyle((byte)',', (byte)' '), out _))
            || (field.AsSpan().IndexOfAny('\'', '\u2019') > 0
                && (NumberField.TryRead(bytes, new NumberStyle((byte)'.', (byte)'\''), out _)
                    || NumberField.TryRead(bytes, new NumberStyle((byte)',', (byte)'\''), out _)));
    }

    /// <summary>The unit after a number; null where there is none that is known.</summary>
    public static Unit? UnitOf(string field)
    {
        int end = field.AsSpan().LastIndexOfAnyInRange('0', '9') + 1;
        return end > 0 && UnitTable.TryFind(field[end..].Trim(), out Unit unit) ? unit : null;
    }

    /// <summary>Whether a field is a date, a clock time or both.</summary>
    public static bool IsTime(string field)
    {
        ReadOnlySpan<byte> bytes = FieldBytes.Of(field, stackalloc byte[FieldBytes.Room]);
        return IsStamp(bytes) || IsClock(field, bytes);
    }

    /// <summary>Whether a field is a clock time, or a time in hours, minutes and seconds, in a form that no number has.</summary>
    public static bool IsClock(string field) => IsClock(field, FieldBytes.Of(field, stackalloc byte[FieldBytes.Room]));

    private static bool IsClock(string field, ReadOnlySpan<byte> bytes) =>
        field.Length > 3 && field.AsSpan().IndexOfAny(ClockSigns) > 0 && (field.Contains(':', StringComparison.Ordinal)
            ? ClockField.TryRead(bytes, false, out _)
            : ClockField.TryReadWritten(bytes, out _));

    /// <summary>Whether a field is a date without a clock time.</summary>
    public static bool IsDate(string field) =>
        !field.Contains(':', StringComparison.Ordinal) && IsStamp(FieldBytes.Of(field, stackalloc byte[FieldBytes.Room]));

    /// <summary>Whether a field begins with a date, in either order.</summary>
    public static bool IsStamp(ReadOnlySpan<byte> field) =>
        field.Length >= 6 && (StampReader.IsStamp(field, DateOrder.DayFirst) || StampReader.IsStamp(field, DateOrder.MonthFirst));

    /// <summary>Whether a field says something that a row of readings may say.</summary>
    public static bool IsReadable(string field, char separator) => field.Length > 0
        && (IsNumber(field, separator) || IsTime(field) || AwayWords.Is(field));
}
