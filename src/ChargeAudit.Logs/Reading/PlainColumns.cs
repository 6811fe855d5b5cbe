
namespace ChargeAudit.Logs.Reading;

// Lines that all have the same marks in the same order, as those of nearly all logs do: they are read column by column, so that each number
// is found, read and scaled by one short loop that knows all about its column.
internal sealed partial class PlainRows
{
    // What is between the numbers of the first line; rows that all have the same are read column by column. 0 where the line is of
    // another kind.
    private int MarksPerRow(ReadOnlySpan<byte> text, ReadOnlySpan<int> found)
    {
        int next = 0;
        for (int column = 0; column < _columns.Length; column++)
        {
            int points = 0;
            while (next + points < found.Length && text[found[next + points]] == _decimalMark)
            {
                points++;
            }

            next += points;
            if (next >= found.Length || (_columns[column] >= TimeNumber && _columns[column] != Skipped && points > 1))
            {
                return 0;
            }

            _pointsOf[column] = points;
            next++;
        }

        _lineEnd = text[found[next - 1]];
        return _lineEnd == '\r' ? next + 1 : next;
    }

    // Each column by itself, so that all that holds for the column is known while its numbers are read. Leaves the rest to the other way at
    // the first thing that differs.
    private bool ReadColumns(ReadOnlySpan<byte> text, ReadOnlySpan<int> found, int perRow)
    {
        int at = 0;
        for (int column = 0; column < _columns.Length; column++)
        {
            int kind = _columns[column];
            byte close = column < _columns.Length - 1 ? _separator : _lineEnd;
            int points = _pointsOf[column];
            bool read = kind switch
            {
                TimeNumber => ReadNumbers(text, found, perRow, at, points, close, _blockTimes),
                >= 0 => ReadNumbers(text, found, perRow, at, points, close, _blockColumns[kind]!),
                _ => ReadTexts(text, found, perRow, at, points, close, kind == TimeText),
            };
            if (!read)
            {
                return false;
            }

            at += points + 1;
        }

        int rows = (found.Length - 1) / perRow;
        for (int feed = perRow; _lineEnd == '\r' && feed < found.Length; feed += perRow)
        {
            if (text[found[feed]] != '\n' || found[feed] != found[feed - 1] + 1)
            {
                return false;
            }
        }

        Scale(rows);
        return true;
    }

    // From what is written to coherent units.
    private void Scale(int rows)
    {
        for (int column = 0; column < _columns.Length; column++)
        {
            int kind = _columns[column];
            if (kind == TimeNumber && (_time.BaseNumber != 0 || _time.Factor != 1))
            {
                foreach (ref double value in _blockTimes.AsSpan(0, rows))
                {
                    value = (value - _time.BaseNumber) * _time.Factor;
                }
            }
            else if (kind >= 0 && _factors[column] != 1)
            {
                foreach (ref double value in _blockColumns[kind].AsSpan(0, rows))
                {
                    value *= _factors[column];
                }
            }
        }
    }

    private bool ReadTexts(ReadOnlySpan<byte> text, ReadOnlySpan<int> found, int perRow, int before, int points, byte close, bool isTime)
    {
        int row = 0;
        for (int opener = before; opener + points + 1 < found.Length; opener += perRow, row++)
        {
            int from = found[opener] + 1;
            int end = found[opener + points + 1];
            bool read = text[end] == close;
            for (int point = 1; point <= points; point++)
            {
                read &= text[found[opener + point]] == _decimalMark;
            }

            if (!read || (isTime && !_times.TryRead(text[from..end], default, out _blockTimes[row])))
            {
                return false;
            }
        }

        return true;
    }
}
