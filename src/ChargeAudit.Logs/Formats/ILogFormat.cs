namespace ChargeAudit.Logs.Formats;

/// <summary>
/// A file format that is not a text table. Its reader turns it into lines of tab-separated text, a header first, and everything else
/// (columns, units, times, faults) is the text reader's: so one set of rules serves all formats.
/// </summary>
internal interface ILogFormat
{
    /// <summary>Short name, as shown.</summary>
    string Name { get; }

    /// <summary>Whether a file that begins so is of this format.</summary>
    bool Recognises(ReadOnlySpan<byte> head);

    /// <summary>Opens a file as a table.</summary>
    /// <exception cref="Metrology.Diagnostics.InputException">The file is damaged, or holds nothing that can be used.</exception>
    FormatTable Open(IStoredLog source);
}

/// <summary>A file as a table of text.</summary>
/// <param name="Lines">Header and rows, fields separated by tabs; read once, in order.</param>
/// <param name="Samples">What a reading stands for, where the format says it.</param>
/// <param name="BlanksAreNormal">Whether empty fields are part of the format and no fault.</param>
/// <param name="Notes">Choices made.</param>
internal sealed record FormatTable(IEnumerable<string> Lines, SampleKind? Samples, bool BlanksAreNormal, IReadOnlyList<string> Notes);

/// <summary>The formats known.</summary>
internal static class LogFormats
{
    private static readonly ILogFormat[] All = [new EspiLog(), new OdsLog(), new SheetLog(), new ParquetLog(), new JsonLog(),
        new SqliteLog()];

    /// <summary>The format of a file that begins so; null for text.</summary>
    public static ILogFormat? Find(ReadOnlySpan<byte> head)
    {
        foreach (ILogFormat format in All)
        {
            if (format.Recognises(head))
            {
                return format;
            }
        }

        return null;
    }
}
