using System.IO.Compression;
using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Logs.Sources;

/// <summary>A log's bytes: a file or a copy of standard input, packed or not, that can be opened as often as needed.</summary>
internal sealed class LogSource
{
    private readonly Spool? spool;

    private LogSource(string path, Spool? spool, bool packed)
    {
        Path = path;
        this.spool = spool;
        Packed = packed;
    }

    /// <summary>Name for messages: the path as the user gave it.</summary>
    public string Path { get; }

    /// <summary>Whether the bytes are packed by gzip.</summary>
    public bool Packed { get; }

    /// <summary>Copy of standard input, where the log came from there.</summary>
    public Spool? Spool => spool;

    /// <summary>Finds a log and looks at its first bytes.</summary>
    /// <param name="path">File name, or <c>-</c> for standard input.</param>
    /// <param name="options">Where standard input comes from.</param>
    /// <param name="spool">Copy of standard input made before; null to make one now if needed.</param>
    public static LogSource Find(string path, LogOptions options, Spool? spool)
    {
        if (path == "-")
        {
            spool ??= new Spool(options.StandardInput ?? throw LogErrors.NoStandardInput());
        }
        else if (Directory.Exists(path))
        {
            throw LogErrors.IsDirectory(path);
        }
        else if (!File.Exists(path))
        {
            throw LogErrors.Missing(path);
        }

        Span<byte> magic = stackalloc byte[2];
        using Stream raw = new LogSource(path, spool, false).OpenRaw();
        int read = raw.ReadAtLeast(magic, 2, throwOnEndOfStream: false);
        return new LogSource(path, spool, read == 2 && magic[0] == 0x1F && magic[1] == 0x8B);
    }

    /// <summary>Opens the bytes as they are stored.</summary>
    public Stream OpenRaw()
    {
        try
        {
            return spool?.Open() ?? new FileStream(Path, new FileStreamOptions
            {
                Mode = FileMode.Open,
                Access = FileAccess.Read,
                Share = FileShare.ReadWrite | FileShare.Delete,
                Options = FileOptions.SequentialScan,
                BufferSize = 0,
            });
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw LogErrors.Unreadable(Path, e);
        }
    }

    /// <summary>Whether the text is made from another format, and so is UTF-8 whatever the stored bytes look like.</summary>
    public bool Converts { get; init; }

    /// <summary>Unpacks a stream of the stored bytes where they are packed.</summary>
    public Stream OpenText(Stream raw) => Packed ? new BombGuardStream(new GZipStream(raw, CompressionMode.Decompress), raw, Path) : raw;
}
