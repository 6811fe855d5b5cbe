using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using ChargeAudit.Logs.Numbers;

namespace ChargeAudit.Logs.Reading;

// The loops in which most of the reading is done. First all digits of a column are read as whole numbers, then those are divided: a
// division after each number would keep the processor from beginning the next ones. Nothing here overflows or leaves the text: places rise,
// lie within a stretch, and are followed by a block that may be read.
internal sealed partial class PlainRows
{
    // A double holds every whole number up to here.
    private const ulong MostExact = 1UL << 53;
    private const long Sign = long.MinValue;

    private readonly byte[] _placesOf = new byte[RowsInBlock];

    private bool ReadNumbers(ReadOnlySpan<byte> text, ReadOnlySpan<int> found, int perRow, int before, int points, byte close,
        double[] values)
    {
        int rows = (found.Length - 1) / perRow;
        if (rows > RowsInBlock)
        {
            return false;
        }

        byte pointMark = points == 0 ? close : _decimalMark;
        ref byte bytes = ref MemoryMarshal.GetReference(text);
        ref ulong numbers = ref Unsafe.As<double, ulong>(ref MemoryMarshal.GetArrayDataReference(values));
        int row = 0;
        while (row < rows)
        {
            ref int opener = ref Unsafe.Add(ref MemoryMarshal.GetReference(found), before + (row * perRow));
            int from = opener + 1, point = Unsafe.Add(ref opener, 1), end = Unsafe.Add(ref opener, points + 1);
            if (Unsafe.Add(ref bytes, end) != close || Unsafe.Add(ref bytes, point) != pointMark)
            {
                return false;
            }

            bool negative = Unsafe.Add(ref bytes, from) == '-';
            from = negative ? from + 1 : from;
            var shape = new Shape(point - from, end - point - points, points);
            ulong wrong = 0;
            ulong number = shape.IsShort ? Digits.Read(ref bytes, from, points, shape.Before, shape.Shift, ref wrong)
                : shape.IsLong ? Digits.ReadLong(ref bytes, from, from + shape.Last, points, shape.Before, shape.Shift, ref wrong)
                : ReadOther(text, from, shape.Whole, shape.Places, end);
            if (wrong != 0 || number > MostExact)
            {
                return false;
            }

            Unsafe.Add(ref numbers, row) = number | (negative ? unchecked((ulong)Sign) : 0);
            int first = row++;
            if (!negative && row < rows && (shape.IsShort || shape.IsLong))
            {
                row = ReadAlike(ref bytes, ref Unsafe.Add(ref opener, perRow), perRow, shape, close, pointMark, ref numbers, row, rows);
            }

            _placesOf.AsSpan(first, row - first).Fill((byte)shape.Places);
        }

        Divide(values.AsSpan(0, rows));
        return true;
    }

    // The numbers that follow with as many digits before and after the point, as nearly all of a meter's do; returns the first other row.
    private static int ReadAlike(ref byte bytes, ref int opener, int perRow, Shape shape, byte close, byte pointMark, ref ulong numbers,
        int row, int rows)
    {
        int length = shape.Whole + shape.Points + shape.Places, whole = shape.Whole, points = shape.Points;
        int last = shape.Last, shift = shape.Shift;
        ulong before = shape.Before;
        bool isShort = shape.IsShort;
        unchecked
        {
            for (; row < rows; row++)
            {
                int from = opener + 1, point = Unsafe.Add(ref opener, 1), end = Unsafe.Add(ref opener, points + 1);
                if (end - from != length || point - from != whole || Unsafe.Add(ref bytes, end) != close
                    || Unsafe.Add(ref bytes, point) != pointMark)
                {
                    break;
                }

                ulong wrong = 0;
                ulong number = isShort
                    ? Digits.Read(ref bytes, from, points, before, shift, ref wrong)
                    : Digits.ReadLong(ref bytes, from, from + last, points, before, shift, ref wrong);
                if (wrong != 0 || number > MostExact)
                {
                    break;
                }

                Unsafe.Add(ref numbers, row) = number;
                opener = ref Unsafe.Add(ref opener, perRow);
            }
        }

        return row;
    }

    // More than any number where it cannot be read.
    private static ulong ReadOther(ReadOnlySpan<byte> text, int from, int whole, int places, int end) =>
        whole + places is 0 or > MostDigits || !Digits.TryRead(text, from, whole, out ulong above)
        || !Digits.TryRead(text, end - places, places, out ulong below)
            ? ulong.MaxValue
            : (above * Digits.PowerOfTen(places)) + below;

    // What stands there are whole numbers with a sign beside them; what they become are doubles.
    private void Divide(Span<double> values)
    {
        var placesOf = _placesOf.AsSpan(0, values.Length);
        var numbers = MemoryMarshal.Cast<double, long>(values);
        if (placesOf.IndexOfAnyExcept(placesOf[0]) < 0)
        {
            Divide(values, placesOf[0]);
            return;
        }

        for (int i = 0; i < numbers.Length; i++)
        {
            double magnitude = (numbers[i] & ~Sign) / NumberField.PowerOfTen(placesOf[i]);
            values[i] = numbers[i] < 0 ? -magnitude : magnitude;
        }
    }

    private static void Divide(Span<double> values, int places)
    {
        var numbers = MemoryMarshal.Cast<double, long>(values);
        double power = NumberField.PowerOfTen(places);
        int i = 0;
        for (; i + 1 < numbers.Length; i += 2)
        {
            var pair = Vector128.Create<long>(numbers[i..]);
            var magnitudes = Vector128.Create((double)(pair[0] & ~Sign), pair[1] & ~Sign) / Vector128.Create(power);
            (magnitudes.AsInt64() | (pair & Vector128.Create(Sign))).CopyTo(numbers[i..]);
        }

        if (i < numbers.Length)
        {
            double magnitude = (numbers[i] & ~Sign) / power;
            values[i] = numbers[i] < 0 ? -magnitude : magnitude;
        }
    }
}
