using System.Text;

namespace ChargeAudit.Logs.Numbers;

/// <summary>Fields of the first look as the bytes that the readers of numbers and times take.</summary>
internal static class FieldBytes
{
    /// <summary>Longer fields are put on the heap.</summary>
    public const int Room = 64;

    /// <summary>The field's bytes in UTF-8, in the room where they fit.</summary>
    public static ReadOnlySpan<byte> Of(ReadOnlySpan<char> field, Span<byte> room)
    {
        if (Encoding.UTF8.TryGetBytes(field, room, out int written))
        {
            return room[..written];
        }

        var bytes = new byte[Encoding.UTF8.GetByteCount(field)];
        Encoding.UTF8.GetBytes(field, bytes);
        return bytes;
    }
}
