using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Sources;

/// <summary>A range of a file's bytes as a stream.</summary>
internal sealed class RangeStream : ReadOnlyFilter
{
    private long _left;

    /// <summary>The bytes from one place up to another.</summary>
    /// <param name="file">The file, which can be read from any place; closed with this.</param>
    /// <param name="fromByte">The first byte.</param>
    /// <param name="toByte">The byte after the last.</param>
    public RangeStream(Stream file, long fromByte, long toByte)
        : base(file)
    {
        file.Seek(fromByte, SeekOrigin.Begin);
        _left = toByte - fromByte;
    }

    public override int Read(Span<byte> buffer)
    {
        int read = Inner.Read(buffer[..(int)Math.Min(_left, buffer.Length)]);
        _left -= read;
        return read;
    }
}
