using CsvHelper;

namespace ChargeAudit.Logs.Dialects;

/// <summary>Rows of fields with a separator between them, a line each.</summary>
internal static class SeparatedRows
{
    public const int LongestLineBytes = 1 << 20;
    private const int BufferBytes = 1 << 20;
    private const int SmallBufferBytes = 1 << 16;

    /// <summary>Opens a row reader in which each line is one row, so that rows count lines.</summary>
    /// <param name="text">The rows, in UTF-8.</param>
    /// <param name="separator">What stands between fields.</param>
    /// <param name="bytesAbout">About how many bytes there are: a short log needs no large buffer.</param>
    public static CsvReader Open(Stream text, byte separator, long bytesAbout = long.MaxValue) =>
        CsvReader.Create(text, new CsvReaderOptions
        {
            Separator = (char)separator,
            HasHeader = false,
            AllowLineBreaksInQuotes = false,
            SkipEmptyLines = false,
            DetectSeparatorHint = false,
            MaxRecordSize = LongestLineBytes,
            BufferSize = (int)Math.Clamp(bytesAbout, SmallBufferBytes, BufferBytes),
        }, leaveOpen: true);
}
