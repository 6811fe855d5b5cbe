using System.Buffers;
using System.Runtime.CompilerServices;

namespace ChargeAudit.Measuring.Integration;

/// <summary>The cells of a log that has been summed: at hand while they are used, else packed, in memory or in the shelf's file.</summary>
internal sealed class RestingCells
{
    private readonly CellShelf _shelf;
    private readonly Lock _lock = new();
    private readonly int _count;
    private EnvelopeBucket[]? _cells;
    private byte[]? _packed;
    private long? _at;
    private int _packedBytes;

    public RestingCells(CellShelf shelf, EnvelopeBucket[] cells, int count)
    {
        (_shelf, _cells, _count) = (shelf, cells, count);
        Place = new LinkedListNode<RestingCells>(this);
        shelf.Used(this);
    }

    /// <summary>Where they stand among those in use.</summary>
    public LinkedListNode<RestingCells> Place { get; }

    /// <summary>What they take while they are at hand.</summary>
    public long Bytes => (long)_count * Unsafe.SizeOf<EnvelopeBucket>();

    /// <summary>The cells. Whoever asked may go on using them when they are put away.</summary>
    public EnvelopeBucket[] Cells()
    {
        if (Volatile.Read(ref _cells) is { } known)
        {
            return known;
        }

        EnvelopeBucket[] cells;
        lock (_lock)
        {
            cells = _cells ??= Unpacked();
        }

        _shelf.Used(this);
        return cells;
    }

    /// <summary>Gives up the cells, which are packed first where they are not yet.</summary>
    public void PutAway()
    {
        lock (_lock)
        {
            if (_cells is null)
            {
                return;
            }

            if (_packed is null && _at is null)
            {
                byte[] room = CellColumns.Pack(_cells.AsSpan(0, _count), ArrayPool<byte>.Shared.Rent, out _packedBytes);
                var packed = room.AsSpan(0, _packedBytes);
                _at = _shelf.Store(packed);
                _packed = _at is null ? packed.ToArray() : null;
                ArrayPool<byte>.Shared.Return(room);
            }

            Volatile.Write(ref _cells, null);
        }
    }

    private EnvelopeBucket[] Unpacked()
    {
        if (_packed is { } packed)
        {
            return CellColumns.Unpack(packed, _count);
        }

        byte[] room = ArrayPool<byte>.Shared.Rent(_packedBytes);
        var read = room.AsSpan(0, _packedBytes);
        _shelf.Load(_at!.Value, read);
        var cells = CellColumns.Unpack(read, _count);
        ArrayPool<byte>.Shared.Return(room);
        return cells;
    }
}
