using System.Collections;
using TextLine = System.ReadOnlyMemory<char>;

namespace ChargeAudit.Logs.Dialects;

/// <summary>Rows of the first look that follow one another. Each is taken apart when it is asked for: of most, only single fields
/// are.</summary>
internal sealed class SampleRows(IReadOnlyList<TextLine> lines, char separator) : IReadOnlyList<string[]>
{
    private readonly string[]?[] _fields = new string[lines.Count][];

    /// <inheritdoc/>
    public int Count => lines.Count;

    /// <inheritdoc/>
    public string[] this[int index] => _fields[index] ??= Cells.Split(lines[index].Span, separator);

    /// <summary>A row as it stands.</summary>
    public ReadOnlySpan<char> Line(int row) => lines[row].Span;

    /// <summary>One field of a row that has it, without quotes in the row and with another separator than blanks.</summary>
    public ReadOnlySpan<char> Field(int row, int column)
    {
        ReadOnlySpan<char> rest = lines[row].Span;
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
