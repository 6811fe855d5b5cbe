namespace ChargeAudit.Logs.Streams;

/// <summary>Refuses packed data that swells far beyond what any log does, or that was cut.</summary>
internal sealed class BombGuardStream(Stream unpacked, Stream packed, string path, Func<long, bool> isWhole, string format = "gzip")
    : ReadOnlyFilter(unpacked)
{
    // The packing reaches 1032 times on zeros; a table of readings whose time goes on stays under 100.
    public const long LargestRatio = 500;
    public const long HarmlessBytes = 64L << 20;

    private long _count;

    public override int Read(Span<byte> buffer)
    {
        try
        {
            int read = Inner.Read(buffer);
            _count += read;
            if (_count > HarmlessBytes && _count / LargestRatio > packed.Position)
            {
                throw LogErrors.Bomb(path);
            }

            if (read == 0 && buffer.Length > 0 && !isWhole(_count))
            {
                throw LogErrors.Corrupt(path, format, new EndOfStreamException("it ends too early"));
            }

            return read;
        }
        catch (Exception e) when (e is InvalidDataException or EndOfStreamException or ZstdSharp.ZstdException)
        {
            throw LogErrors.Corrupt(path, format, e);
        }
    }
}
