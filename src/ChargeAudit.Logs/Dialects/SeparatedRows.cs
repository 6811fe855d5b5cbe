using CsvHelper;

namespace ChargeAudit.Logs.Dialects;

/// <summary>Rows of fields with a separator between them, a line each.</summary>
internal static class SeparatedRows
{
    public const int LongestLineBytes = 1 << 20;
    private const int BufferBytes = 1 << 20;

    /// <summary>Opens a row reader in which each line is one row, so that rows count lines.</summary>
    public static CsvReader Open(Stream text, byte separator) => CsvReader.Create(text, new CsvReaderOptions
    {
        Separator = (char)separator,
        HasHeader = false,
        AllowLineBreaksInQuotes = false,
        SkipEmptyLines = false,
        DetectSeparatorHint = false,
        MaxRecordSize = LongestLineBytes,
        BufferSize = BufferBytes,
    }, leaveOpen: true);
}
