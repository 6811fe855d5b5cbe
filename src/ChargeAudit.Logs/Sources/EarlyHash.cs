using System.Security.Cryptography;

namespace ChargeAudit.Logs.Sources;

/// <summary>
/// A large file's hash, worked out beside the first look and the parsing: a hash cannot be cut into pieces, but it can have a core that
/// would wait otherwise.
/// </summary>
internal sealed class EarlyHash
{
    private readonly FileState _state;
    private readonly Task<(IncrementalHash Hash, long Bytes)> _work;
    private volatile bool _stopped;

    private EarlyHash(LogSource source, FileState state)
    {
        _state = state;
        _work = Task.Run(() => Hash(source));
    }

    /// <summary>Begins to hash a file; null where that does not pay: a short one is hashed in a few milliseconds while it is
    /// read.</summary>
    public static EarlyHash? Begin(LogSource source)
    {
        FileState state = FileState.Of(source);
        return Environment.ProcessorCount > 1 && AllCores.AreTakenBy(state.Bytes) ? new EarlyHash(source, state) : null;
    }

    /// <summary>Whether the hash is that of a file in this state.</summary>
    public bool IsOf(FileState now) => now == _state && !_stopped;

    /// <summary>Waits for the hash.</summary>
    /// <returns>SHA-256 in lower-case hexadecimal.</returns>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public string Sha256()
    {
        using IncrementalHash hash = _work.GetAwaiter().GetResult().Hash;

        // Whoever reads the file again works it out anew.
        _stopped = true;
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>Ends the work where it is, for the caller to go on with.</summary>
    /// <returns>The hash of the file's first bytes, and how many they are.</returns>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public (IncrementalHash Hash, long Bytes) HandOver()
    {
        _stopped = true;
        return _work.GetAwaiter().GetResult();
    }

    /// <summary>Gives the hash up, as it will not be asked for.</summary>
    public void Stop() => _stopped = true;

    private (IncrementalHash Hash, long Bytes) Hash(LogSource source)
    {
        using Stream raw = source.OpenRaw();
        var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] block = new byte[1 << 17];
        long bytes = 0;
        int read;
        while (!_stopped && (read = raw.Read(block)) > 0)
        {
            hash.AppendData(block.AsSpan(0, read));
            bytes += read;
        }

        return (hash, bytes);
    }
}
