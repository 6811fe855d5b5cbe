using System.Runtime.CompilerServices;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Time;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Reads whole lines of plain numbers in one go over their bytes: the rows that nearly all of a large log is made of. It knows nothing
/// else: the first byte that could mean anything but a digit, a sign, a decimal separator or the end of a field makes it give up, and the
/// row reader takes the piece. Not the library's reader, because that one finds all fields first and then reads each again for its number;
/// here a byte is looked at once.
/// </summary>
internal sealed partial class PlainRows
{
    private const int Skipped = -1;
    private const int TimeNumber = -2;
    private const int TimeText = -3;

    // A number of this many digits is below 2^63, so that the limit of exactness can be checked once, after the last digit.
    private const int MostDigits = 18;

    // Text, marks and columns of a stretch stay in the second-level cache. The shortest row is a digit and a line end.
    private const int Stretch = 1 << 13;
    private const int RowsInBlock = Stretch / 2;

    private readonly int[] _columns;
    private readonly double[] _factors;
    private readonly byte _separator;
    private readonly byte _decimalMark;
    private readonly TimePlan _time;
    private readonly TimeReader _times;
    private readonly Marks _marks;
    private readonly int[] _pointsOf;
    private byte _lineEnd;
    private readonly double[] _blockTimes = new double[RowsInBlock];
    private readonly double[]?[] _blockColumns = new double[TextRows.Slots][];

    private PlainRows(TextPlan plan)
    {
        _time = plan.Time;
        _times = new TimeReader(plan.Time, plan.Numbers);
        _separator = plan.Separator;
        _decimalMark = plan.Numbers.Decimal;
        _marks = new Marks(_separator, _decimalMark);
        _pointsOf = new int[plan.FieldCount];
        _columns = new int[plan.FieldCount];
        _factors = new double[plan.FieldCount];
        Array.Fill(_columns, Skipped);
        _columns[plan.Time.Index] = plan.Time.Form is TimeForm.ElapsedNumber or TimeForm.Epoch ? TimeNumber : TimeText;
        foreach (FieldPlan field in plan.Fields)
        {
            _columns[field.Index] = field.Quantity - TextRows.FirstSlot;
            _factors[field.Index] = field.Factor;
            _blockColumns[field.Quantity - TextRows.FirstSlot] = new double[RowsInBlock];
        }
    }

    /// <summary>What a piece held.</summary>
    /// <param name="Rows">Its rows.</param>
    /// <param name="FirstRawS">Time of the first row as read. [s]</param>
    /// <param name="LastRawS">Time of the last row as read. [s]</param>
    public readonly record struct Extent(long Rows, double FirstRawS, double LastRawS);

    /// <summary>A reader for one piece; null where a log's rows are not of this kind.</summary>
    public static PlainRows? For(TextPlan plan) =>
        plan.Time.Index >= 0 && plan.Time.ClockIndex < 0
            && plan.Fields.All(f => f.Index != plan.Time.Index && f.Index < plan.FieldCount && f.Offset == 0)
        && plan.Fields.DistinctBy(f => f.Index).Count() == plan.Fields.Count ? new PlainRows(plan) : null;

    /// <summary>Whether there are fields that it steps over and does not look at; all others hold nothing but ASCII text without quotes, or
    /// make it give up.</summary>
    public bool SkipsColumns => Array.IndexOf(_columns, Skipped) >= 0;

    /// <summary>Reads all lines and hands their rows on.</summary>
    /// <param name="text">Whole lines, of ASCII text without quotes where it <see cref="SkipsColumns"/>; after them at least
    /// <see cref="Marks.Block"/> bytes that may hold anything.</param>
    /// <param name="length">Bytes of the lines.</param>
    /// <param name="offsetS">What turns a time as read into a sample's time. [s]</param>
    /// <param name="plainStepS">Longest step from row to row that needs no judgement. [s]</param>
    /// <param name="line">Number of the first line.</param>
    /// <param name="sink">Takes the rows.</param>
    /// <param name="extent">What was read.</param>
    /// <returns>Whether all lines were plain rows in plain steps; otherwise the sink is of no use.</returns>
    public bool TryRead(ReadOnlySpan<byte> text, int length, double offsetS, double plainStepS, long line, IRowBlockSink sink,
        out Extent extent)
    {
        extent = default;
        double firstRawS = double.NaN;
        double lastRawS = double.NaN;
        long rows = 0;
        int at = 0;
        while (at < length)
        {
            int count = ReadBlock(text, length, ref at);
            if (count <= 0)
            {
                return false;
            }

            var times = _blockTimes.AsSpan(0, count);
            firstRawS = rows == 0 ? times[0] : firstRawS;
            if ((rows > 0 && !IsPlain(times[0] - lastRawS, plainStepS)) || !ArePlain(times, plainStepS))
            {
                return false;
            }

            lastRawS = times[^1];
            foreach (ref double time in times)
            {
                time += offsetS;
            }

            sink.Add(new RowBlock(times, _blockColumns, line + rows));
            rows += count;
        }

        extent = new Extent(rows, firstRawS, lastRawS);
        return rows > 0;
    }

    private static bool IsPlain(double stepS, double plainStepS) => stepS > 0 && stepS <= plainStepS;

    // Whether each time follows the one before in a plain step; gathered, so that the loop is short.
    private static bool ArePlain(ReadOnlySpan<double> times, double plainStepS)
    {
        bool plain = true;
        for (int i = 1; i < times.Length; i++)
        {
            plain &= IsPlain(times[i] - times[i - 1], plainStepS);
        }

        return plain;
    }

    // Reads the lines that end within the next stretch of text into the columns; returns how many, or -1 at a line that is not a plain row.
    private int ReadBlock(ReadOnlySpan<byte> text, int length, ref int start)
    {
        int stretch = Math.Min(length, start + Stretch);
        ReadOnlySpan<int> withStart = _marks.Find(text, start, stretch);
        ReadOnlySpan<int> found = withStart[1..];
        int last = found.Length - 1;
        while (last >= 0 && text[found[last]] != '\n')
        {
            last--;
        }

        int perRow = last < 0 ? 0 : MarksPerRow(text, found);
        int rows;
        if (perRow > 0 && (last + 1) % perRow == 0 && ReadColumns(text, withStart[..(last + 2)], perRow))
        {
            rows = (last + 1) / perRow;
            start = found[last] + 1;
        }
        else
        {
            rows = ReadLines(text[..length], stretch, ref start);
        }

        return rows;
    }

    // Reads the lines that begin before a place, byte by byte; returns how many, or -1 at a line that is not a plain row.
    private int ReadLines(ReadOnlySpan<byte> bytes, int before, ref int start)
    {
        ReadOnlySpan<int> kinds = _columns;
        int at = start;
        int row = 0;
        for (; row < RowsInBlock && at < before; row++)
        {
            for (int column = 0; column < kinds.Length; column++)
            {
                int kind = kinds[column];
                if (kind is Skipped or TimeText)
                {
                    int length = bytes[at..].IndexOfAny(_separator, (byte)'\n', (byte)'\r');
                    length = length < 0 ? bytes.Length - at : length;
                    if (kind == TimeText)
                    {
                        if (!_times.TryRead(bytes.Slice(at, length), default, out double rawS))
                        {
                            return -1;
                        }

                        _blockTimes[row] = rawS;
                    }

                    at += length;
                }
                else if (!TryReadNumber(bytes, _decimalMark, ref at, out double number))
                {
                    return -1;
                }
                else if (kind == TimeNumber)
                {
                    _blockTimes[row] = (number - _time.BaseNumber) * _time.Factor;
                }
                else
                {
                    _blockColumns[kind]![row] = number * _factors[column];
                }

                if (column < kinds.Length - 1)
                {
                    if (at >= bytes.Length || bytes[at] != _separator)
                    {
                        return -1;
                    }

                    at++;
                }
            }

            if (at < bytes.Length && bytes[at] == '\r')
            {
                at++;
            }

            // A lone carriage return ends no line here.
            if (at < bytes.Length && bytes[at++] != '\n')
            {
                return -1;
            }
        }

        start = at;
        return row;
    }

    // The same arithmetic as NumberField has for plain numbers, so that the same bytes give the same double.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static bool TryReadNumber(ReadOnlySpan<byte> bytes, byte decimalMark, ref int at, out double value)
    {
        int i = at;
        bool negative = i < bytes.Length && bytes[i] == '-';
        i = negative ? i + 1 : i;
        int from = i;
        ulong mantissa = 0;
        uint digit;
        while (i < bytes.Length && (digit = unchecked((uint)bytes[i] - '0')) <= 9)
        {
            mantissa = unchecked((mantissa * 10) + digit);
            i++;
        }

        int digits = i - from;
        int scale = 0;
        if (i < bytes.Length && bytes[i] == decimalMark)
        {
            from = ++i;
            while (i < bytes.Length && (digit = unchecked((uint)bytes[i] - '0')) <= 9)
            {
                mantissa = unchecked((mantissa * 10) + digit);
                i++;
            }

            scale = i - from;
            digits += scale;
        }

        at = i;
        value = 0;
        if (digits is 0 or > MostDigits || !NumberField.TryMake(mantissa, scale, out double magnitude))
        {
            return false;
        }

        value = negative ? -magnitude : magnitude;
        return true;
    }
}
