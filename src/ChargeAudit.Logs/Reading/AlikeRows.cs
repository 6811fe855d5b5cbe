using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace ChargeAudit.Logs.Reading;

// Rows that are cut like the one before them: as many bytes, and the marks at the same places. A meter that prints a fixed number of digits
// writes thousands of them in a row. Nothing has to be looked for in them; that they are cut alike shows while they are read, as a mark is
// no digit.
internal sealed partial class PlainRows
{
    // Where a number stands in its row.
    private readonly record struct Cut(int From, int Length, Shape Shape, byte Close);

    private readonly Cut[] _cuts;
    private int _rowLength;

    // Remembers how the last of some rows is cut, if others can be read by it.
    private void CutAs(ReadOnlySpan<int> found, int perRow)
    {
        _rowLength = 0;
        found = found[^(perRow + 1)..];
        int at = 0;
        for (int column = 0; column < _columns.Length; column++)
        {
            int points = _pointsOf[column], from = found[at] + 1, end = found[at + points + 1];
            byte close = column < _columns.Length - 1 ? _separator : _lineEnd;
            var shape = points > 1 ? default : new Shape(found[at + 1] - from, end - found[at + 1] - points, points);
            if (_columns[column] == Skipped || (_columns[column] != TimeText && !shape.IsShort && !shape.IsLong))
            {
                return;
            }

            _cuts[column] = new Cut(from - found[0] - 1, end - from, shape, close);
            at += points + 1;
        }

        _rowLength = found[^1] - found[0];
    }

    // Reads rows that are cut alike into the columns; returns how many.
    private int ReadAlikeRows(ReadOnlySpan<byte> text, int end, ref int start)
    {
        int rows = _rowLength == 0 ? 0 : Math.Min(RowsInBlock, (end - start) / _rowLength);
        for (int column = 0; column < _columns.Length && rows > 0; column++)
        {
            int kind = _columns[column];
            rows = kind == TimeText
                ? ReadAlikeTimes(text, start, _cuts[column], rows)
                : ReadAlike(text, start, _cuts[column], rows, kind == TimeNumber ? _blockTimes : _blockColumns[kind]!);
        }

        for (int row = 0; row < rows && _lineEnd == '\r'; row++)
        {
            rows = text[start + ((row + 1) * _rowLength) - 1] == '\n' ? rows : row;
        }

        for (int column = 0; column < _columns.Length && rows > 0; column++)
        {
            int kind = _columns[column];
            if (kind != TimeText)
            {
                Divide((kind == TimeNumber ? _blockTimes : _blockColumns[kind]!).AsSpan(0, rows), _cuts[column].Shape.Places);
            }
        }

        Scale(rows);
        start += rows * _rowLength;
        return rows;
    }

    private int ReadAlike(ReadOnlySpan<byte> text, int start, in Cut cut, int rows, double[] values)
    {
        ref byte at = ref Unsafe.Add(ref MemoryMarshal.GetReference(text), start + cut.From);
        ref ulong numbers = ref Unsafe.As<double, ulong>(ref MemoryMarshal.GetArrayDataReference(values));
        int length = cut.Length, points = cut.Shape.Points, shift = cut.Shape.Shift, last = cut.Shape.Last, rowLength = _rowLength;
        int point = points == 0 ? length : cut.Shape.Whole;
        byte close = cut.Close, pointMark = points == 0 ? close : _decimalMark;
        ulong before = cut.Shape.Before;
        bool isShort = cut.Shape.IsShort;
        int row = 0;
        unchecked
        {
            for (; row < rows; row++)
            {
                if (Unsafe.Add(ref at, length) != close || Unsafe.Add(ref at, point) != pointMark)
                {
                    break;
                }

                ulong wrong = 0;
                ulong number = isShort
                    ? Digits.Read(ref at, 0, points, before, shift, ref wrong)
                    : Digits.ReadLong(ref at, 0, last, points, before, shift, ref wrong);
                if (wrong != 0 || number > MostExact)
                {
                    break;
                }

                Unsafe.Add(ref numbers, row) = number;
                at = ref Unsafe.Add(ref at, rowLength);
            }
        }

        return row;
    }

    private int ReadAlikeTimes(ReadOnlySpan<byte> text, int start, in Cut cut, int rows)
    {
        for (int row = 0; row < rows; row++)
        {
            int from = start + (row * _rowLength) + cut.From;
            var time = text.Slice(from, cut.Length);
            if (text[from + cut.Length] != cut.Close || time.Contains(_separator)
                || !_times.TryRead(time, default, out _blockTimes[row]))
            {
                return row;
            }
        }

        return rows;
    }
}
