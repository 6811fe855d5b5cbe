using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Page;

/// <summary>How much the local page takes.</summary>
/// <param name="BytesAFile">Greatest size of a file. [byte]</param>
/// <param name="BytesInAll">Greatest size of all files together. [byte]</param>
/// <param name="Files">Greatest number of files.</param>
public sealed record PageLimits(long BytesAFile, long BytesInAll, int Files)
{
    /// <summary>Greatest size of the answers to the page's questions. [byte]</summary>
    public const int BytesOfAnswers = 64 * 1024;

    /// <summary>How many files are taken in at the same time; more wait.</summary>
    public const int UploadsAtOnce = 8;

    /// <summary>Open connections. Each that says nothing is closed after <see cref="Silence"/>, so it takes many at once to keep a user
    /// out, and then only for seconds.</summary>
    public const int Connections = 1024;

    /// <summary>Greatest price of a kilowatt-hour, in any currency.</summary>
    public const double GreatestPrice = 1e6;

    /// <summary>Longest that any request may take.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromMinutes(2);

    /// <summary>Longest that a connection may say nothing.</summary>
    public static readonly TimeSpan Silence = TimeSpan.FromSeconds(5);

    private const int MiB = 1024 * 1024;

    /// <summary>Those of the program.</summary>
    public static PageLimits Usual { get; } = new(64L * MiB, 256L * MiB, 64);

    /// <summary>Why one more file is too many; null where it is not.</summary>
    /// <param name="files">How many there are.</param>
    public string? TooMany(int files) => files < Files
        ? null
        : InvariantText.Of($"There are {files} logs already, and at most {Files} are taken; start again with fewer.");

    /// <summary>Why a file is too large; null where it is not.</summary>
    /// <param name="bytes">Its size, or what has come of it so far. [byte]</param>
    /// <param name="before">Size of the files that are there. [byte]</param>
    public string? TooLarge(long bytes, long before)
    {
        if (bytes > BytesAFile)
        {
            return InvariantText.Of(
                $"The file is larger than {BytesAFile / MiB} MB, the most that the page takes; export fewer columns or a "
                + $"shorter time.");
        }

        return bytes > BytesInAll - before
            ? InvariantText.Of(
                $"All files together are larger than {BytesInAll / MiB} MB, the most that the page takes; remove "
                + $"logs that you do not need.")
            : null;
    }
}
