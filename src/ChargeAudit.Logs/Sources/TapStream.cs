using System.Security.Cryptography;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Sources;

/// <summary>Passes a file's bytes on while it counts them, hashes them, reports progress and heeds a cancellation.</summary>
/// <param name="inner">The file.</param>
/// <param name="early">Its hash, where that is worked out elsewhere.</param>
/// <param name="progress">Told how many bytes were passed on.</param>
/// <param name="cancellation">Stops the reading.</param>
internal sealed class TapStream(Stream inner, EarlyHash? early, IProgress<long>? progress, CancellationToken cancellation)
    : ReadOnlyFilter(inner)
{
    // Rare enough to cost nothing, frequent enough for a smooth bar: a few a second at full speed.
    private const long ReportEveryBytes = 1 << 24;

    private IncrementalHash? _hash = early is null ? IncrementalHash.CreateHash(HashAlgorithmName.SHA256) : null;
    private long _hashed;
    private long _nextReport = ReportEveryBytes;

    public long Count { get; private set; }

    public override long Position { get => Count; set => throw new NotSupportedException(); }

    /// <summary>Goes on with the hash from where it is: the bytes pass here in any case, and are read once less.</summary>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public void TakeOverHash()
    {
        if (_hash is null)
        {
            (_hash, _hashed) = early!.HandOver();
        }
    }

    public override int Read(Span<byte> buffer)
    {
        cancellation.ThrowIfCancellationRequested();
        int read = Inner.Read(buffer);
        _hash?.AppendData(buffer[(int)Math.Clamp(_hashed - Count, 0, read)..read]);
        Count += read;
        if (Count >= _nextReport)
        {
            _nextReport = Count + ReportEveryBytes;
            progress?.Report(Count);
        }

        return read;
    }

    /// <summary>Reads what is left, so that count and hash are those of the whole file.</summary>
    /// <returns>SHA-256 in lower-case hexadecimal.</returns>
    public string Finish()
    {
        byte[] rest = new byte[1 << 16];
        while (Read(rest) > 0)
        {
        }

        progress?.Report(Count);
        return _hash is null ? early!.Sha256() : Convert.ToHexStringLower(_hash.GetHashAndReset());
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _hash?.Dispose();
        }

        base.Dispose(disposing);
    }
}
