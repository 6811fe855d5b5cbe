using System.IO.Compression;
using ChargeAudit.Logs.Formats;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Sources;

/// <summary>A log's bytes: a file or a copy of standard input, packed or not, that can be opened as often as needed.</summary>
internal sealed class LogSource : IStoredLog
{
    private readonly Spool? _spool;

    private LogSource(string path, Spool? spool)
    {
        Path = path;
        _spool = spool;
    }

    /// <summary>Name for messages: the path as the user gave it.</summary>
    public string Path { get; }

    /// <summary>How the bytes are packed.</summary>
    public Packing Packing { get; private init; }

    /// <summary>Whether the bytes are packed.</summary>
    public bool Packed => Packing != Packing.None;

    /// <summary>What was unpacked of a file whose format has to be opened more than once; null for others.</summary>
    public Spool? Unpacked { get; private set; }

    /// <summary>What the user should know about how the log was found in its file.</summary>
    public IReadOnlyList<string> Notes { get; private init; } = [];

    private string Member { get; init; } = "";

    /// <summary>Copy of standard input, where the log came from there.</summary>
    public Spool? Spool => _spool;

    /// <summary>Finds a log and looks at its first bytes.</summary>
    /// <param name="path">File name, or <c>-</c> for standard input.</param>
    /// <param name="options">Where standard input comes from.</param>
    /// <param name="spool">Copy of it made before; null to make one now if needed.</param>
    /// <param name="look">Looks at the beginning of what has to be copied.</param>
    /// <param name="unpacked">What was unpacked before; null for nothing.</param>
    public static LogSource Find(string path, LogOptions options, Spool? spool, Action<string, Spool, long> look, Spool? unpacked = null)
    {
        if (spool is not null)
        {
            return Of(path, spool, unpacked);
        }

        if (path == "-")
        {
            return Of(path, Copy(path, options.StandardInput ?? throw LogErrors.NoStandardInput(), look));
        }
        else if (Directory.Exists(path))
        {
            throw LogErrors.IsDirectory(path);
        }
        else if (!File.Exists(path))
        {
            throw LogErrors.Missing(path);
        }

        return Of(path, SpoolIfPiped(path, look), unpacked);
    }

    private static LogSource Of(string path, Spool? spool, Spool? unpacked = null)
    {
        using Stream raw = new LogSource(path, spool).OpenRaw();
        Span<byte> head = stackalloc byte[512];
        head = head[..raw.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)];
        List<string> notes = [];
        string member = "";
        var packing = Packings.Find(head);
        if (head.StartsWith("PK\u0003\u0004"u8) && Archive.Member(path, raw, notes) is string name)
        {
            (packing, member) = (Packing.Zip, name);
        }

        if (packing == Packing.None)
        {
            return new LogSource(path, spool) { Format = LogFormats.Find(head) };
        }

        var packed = new LogSource(path, spool) { Packing = packing, Member = member, Notes = notes };
        Span<byte> inner = stackalloc byte[512];
        using (Stream text = packed.Unpack(packed.OpenRaw()))
        {
            inner = inner[..text.ReadAtLeast(inner, inner.Length, throwOnEndOfStream: false)];
        }

        ILogFormat? format = LogFormats.Find(inner);
        if (format is null)
        {
            return packed;
        }

        using Stream content = packed.Unpack(packed.OpenRaw());
        return new LogSource(path, spool)
        {
            Packing = packing,
            Member = member,
            Notes = notes,
            Format = format,
            Unpacked = unpacked ?? Copy(path, content, (_, _, _) => { }),
        };
    }

    // A named pipe is a file that can be read only once.
    private static Spool? SpoolIfPiped(string path, Action<string, Spool, long> look)
    {
        using Stream raw = new LogSource(path, null).OpenRaw();
        return raw.CanSeek ? null : Copy(path, raw, look);
    }

    /// <summary>Copies a stream that can be read only once.</summary>
    /// <param name="path">Name for messages.</param>
    /// <param name="input">The stream.</param>
    /// <param name="look">Told the name, the copy and its bytes so far; throws where the rest is not wanted.</param>
    public static Spool Copy(string path, Stream input, Action<string, Spool, long> look)
    {
        try
        {
            return new Spool(input, (begun, bytes) => look(path, begun, bytes));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw LogErrors.NotCopied(path, e);
        }
    }

    /// <summary>The beginning of a log that is still being copied.</summary>
    public static LogSource Begun(string path, Spool copy) => Of(path, copy);

    /// <summary>Opens the bytes as they are stored.</summary>
    public Stream OpenRaw()
    {
        try
        {
            return _spool?.Open() ?? new FileStream(Path, new FileStreamOptions
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

    /// <summary>The format the text is made from; null where the bytes are text themselves.</summary>
    public ILogFormat? Format { get; private init; }

    /// <summary>How its table is turned into one with a column for each quantity; null where it is one.</summary>
    public IReshape? Reshape { get; set; }

    /// <summary>Encoding of the text that is reshaped.</summary>
    public TextEncoding ReshapeFrom { get; set; }

    /// <summary>The file as a table, where it is of another format.</summary>
    public FormatTable? Table { get; private set; }

    /// <summary>Whether the text is made from another format, and so is UTF-8 whatever the stored bytes look like.</summary>
    public bool Converts => Format is not null || Reshape is not null;

    /// <summary>The text of the log: the stored bytes, unpacked where they are packed, or a table made from another format.</summary>
    /// <param name="raw">The stored bytes.</param>
    /// <param name="cancellation">Stops the making of a table.</param>
    public Stream OpenText(Stream raw, CancellationToken cancellation = default)
    {
        Stream text = OpenTable(raw, cancellation);
        return Reshape is null ? text : new LineStream(Reshape.Lines(Path, ReshapeFrom.ToUtf8(text)), cancellation);
    }

    private Stream OpenTable(Stream raw, CancellationToken cancellation)
    {
        if (Format is not null)
        {
            // A reader that is not ours may never end; a large file takes its time.
            TimeSpan limit = LogLimits.LongestSilence + TimeSpan.FromSeconds(StoredBytes() / LogLimits.SlowestBytesPerS);
            Exception Late() => LogErrors.NoEnd(Path, Format.Name, limit.TotalSeconds);
            IStoredLog stored = Unpacked is null ? this : new UnpackedLog(Path, Unpacked);
            Table = WatchedWork.Run(() => Format.Open(stored), limit, Late);
            return new LineStream(WatchedWork.Lines(Table.Lines, limit, Late), cancellation);
        }

        return Packed ? Unpack(raw) : raw;
    }

    // An archive is read from its end, so not from a stream that goes forward only.
    private Stream Unpack(Stream raw) => Packing switch
    {
        Packing.Gzip => new BombGuardStream(new GZipStream(raw, CompressionMode.Decompress), raw, Path, IsWhole),
        Packing.Zstandard => Packings.OpenZstandard(Path, raw),
        _ => Packings.OpenMember(Path, raw.CanSeek ? raw : OpenRaw(), Member),
    };

    private sealed class UnpackedLog(string path, Spool content) : IStoredLog
    {
        public string Path => path;

        public Stream OpenRaw() => content.Open();
    }

    private long StoredBytes()
    {
        using Stream raw = OpenRaw();
        return raw.Length;
    }

    // A packed file ends with the length of what it unpacks to (RFC 1952, 2.3.1), which the library does not check when the file is cut.
    // Where several packed parts follow one another it is that of the last part, so a second part's mark lets any length pass.
    private bool IsWhole(long unpacked)
    {
        using Stream raw = OpenRaw();
        byte[] bytes = new byte[1 << 16];
        uint length = 0;
        int marks = 0;
        int read;
        while ((read = raw.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false)) > 0)
        {
            ReadOnlySpan<byte> block = bytes.AsSpan(0, read);
            marks += block.Count((ReadOnlySpan<byte>)[0x1F, 0x8B, 8]);
            length = read >= 4 ? System.Buffers.Binary.BinaryPrimitives.ReadUInt32LittleEndian(block[^4..]) : length;
        }

        return marks > 1 || length == unchecked((uint)unpacked);
    }
}
