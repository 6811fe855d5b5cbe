using System.Collections;

namespace ChargeAudit.Logs.Dialects;

/// <summary>Rows of the first look that follow one another. Each is taken apart when it is asked for: of most, only single fields
/// are.</summary>
internal sealed class SampleRows(IReadOnlyList<string> lines, char separator) : IReadOnlyList<string[]>
{
    private readonly string[]?[] _fields = new string[lines.Count][];

    /// <inheritdoc/>
    public int Count => lines.Count;

    /// <inheritdoc/>
    public string[] this[int index] => _fields[index] ??= Cells.Split(lines[index], separator);

    /// <summary>A row as it stands.</summary>
    public string Line(int row) => lines[row];

    /// <summary>One field of a row that has it, without quotes in the row and with another separator than blanks.</summary>
    public ReadOnlySpan<char> Field(int row, int column)
    {
        ReadOnlySpan<char> rest = lines[row];
        for (int i = 0; i < column; i++)
        {
            rest = rest[(rest.IndexOf(separator) + 1)..];
        }

        int end = rest.IndexOf(separator);
        return (end < 0 ? rest : rest[..end]).Trim();
    }

    /// <inheritdoc/>
    public IEnumerator<string[]> GetEnumerator()
    {
        for (int i = 0; i < Count; i++)
        {
            yield return this[i];
        }
    }

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
