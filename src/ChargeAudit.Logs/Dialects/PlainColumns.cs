namespace ChargeAudit.Logs.Dialects;

/// <summary>The columns of the first look that hold plain numbers and nothing else, with a point or a comma before the decimals.</summary>
internal sealed class PlainColumns
{
    private readonly IReadOnlyList<SampleRows> _runs;
    private readonly int _fieldCount;
    private readonly char _separator;
    private readonly Lazy<PlainColumn?[]> _withPoint;
    private readonly Lazy<PlainColumn?[]> _withComma;

    /// <summary>The columns of a table.</summary>
    /// <param name="runs">Its rows.</param>
    /// <param name="fieldCount">Fields of a row.</param>
    /// <param name="separator">What stands between them.</param>
    public PlainColumns(IReadOnlyList<SampleRows> runs, int fieldCount, char separator)
    {
        (_runs, _fieldCount, _separator) = (runs, fieldCount, separator);
        AreRowsEven = separator != ' ' && runs.All(AreEven);
        _withPoint = new(() => Read('.'));
        _withComma = new(() => Read(','));
    }

    /// <summary>Whether all rows have as many fields, without quotes and with no blanks between them: a field can then be found by
    /// itself.</summary>
    public bool AreRowsEven { get; }

    /// <summary>The columns with a decimal point or without decimals; null for every other one.</summary>
    public IReadOnlyList<PlainColumn?> WithPoint => _withPoint.Value;

    /// <summary>A column of plain numbers; null where it holds anything else.</summary>
    /// <param name="index">Its place.</param>
    /// <param name="mark">What stands before decimals.</param>
    public PlainColumn? At(int index, byte mark) => index < 0 || index >= _fieldCount ? null
        : mark == '.' ? _withPoint.Value[index]
        : mark == ',' ? _withComma.Value[index]
        : null;

    private bool AreEven(SampleRows rows)
    {
        for (int row = 0; row < rows.Count; row++)
        {
            ReadOnlySpan<char> line = rows.Line(row);
            if (line.Count(_separator) != _fieldCount - 1 || line.Contains('"'))
            {
                return false;
            }
        }

        return true;
    }

    private PlainColumn?[] Read(char mark)
    {
        var columns = new PlainColumn?[_fieldCount];
        for (int i = 0; i < _fieldCount && AreRowsEven; i++)
        {
            columns[i] = new PlainColumn(_runs);
        }

        for (int run = 0; run < _runs.Count && AreRowsEven; run++)
        {
            for (int row = 0; row < _runs[run].Count; row++)
            {
                ReadOnlySpan<char> rest = _runs[run].Line(row);
                for (int i = 0; i < _fieldCount; i++)
                {
                    int end = rest.IndexOf(_separator);
                    ReadOnlySpan<char> field = end < 0 ? rest : rest[..end];
                    rest = rest[(end + 1)..];
                    if (columns[i] is { } column && !column.Take(field.Trim(), mark, run, row))
                    {
                        columns[i] = null;
                    }
                }
            }
        }

        return columns;
    }
}
