using Microsoft.Win32.SafeHandles;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Holds the cells of many logs in bounded memory: those used last as they are, others packed, and what is more than that in a temporary
/// file, which goes away with the program. Where that file cannot be written the cells stay in memory. Safe for several threads.
/// </summary>
public sealed class CellShelf
{
    // A few charges of hours at a row a second, so that a small study packs nothing.
    private const long MostAwakeBytes = 16 << 20;
    private const long MostPackedBytes = 4 << 20;

    // Two logs of a comparison are looked at side by side, however long they are.
    private const int FewestAwake = 4;

    private readonly long _mostAwakeBytes;
    private readonly long _mostPackedBytes;
    private readonly int _fewestAwake;
    private readonly Lock _lock = new();
    private readonly LinkedList<RestingCells> _awake = [];
    private long _awakeBytes;
    private long _packedBytes;
    private SafeFileHandle? _file;
    private long _written;
    private bool _fileFails;

    /// <summary>An empty shelf.</summary>
    public CellShelf()
        : this(MostAwakeBytes, MostPackedBytes, FewestAwake)
    {
    }

    /// <summary>An empty shelf of another size.</summary>
    /// <param name="mostAwakeBytes">Most that may be at hand. [byte]</param>
    /// <param name="mostPackedBytes">Most that may be packed in memory. [byte]</param>
    /// <param name="fewestAwake">Number of logs that stay at hand in any case.</param>
    internal CellShelf(long mostAwakeBytes, long mostPackedBytes, int fewestAwake) =>
        (_mostAwakeBytes, _mostPackedBytes, _fewestAwake) = (mostAwakeBytes, mostPackedBytes, fewestAwake);

    /// <summary>Notes that cells are in use, and puts away those that were used longest ago.</summary>
    internal void Used(RestingCells cells)
    {
        List<RestingCells> leaving = [];
        lock (_lock)
        {
            if (cells.Place.List is null)
            {
                _awakeBytes += cells.Bytes;
            }
            else
            {
                _awake.Remove(cells.Place);
            }

            _awake.AddLast(cells.Place);
            while (_awakeBytes > _mostAwakeBytes && _awake.Count > _fewestAwake)
            {
                leaving.Add(_awake.First!.Value);
                _awakeBytes -= _awake.First.Value.Bytes;
                _awake.RemoveFirst();
            }
        }

        // Outside the lock: packing takes a while.
        leaving.ForEach(c => c.PutAway());
    }

    /// <summary>Takes packed cells into the file once there are enough in memory.</summary>
    /// <returns>Where they stand in the file; null: they are to be kept in memory.</returns>
    internal long? Store(ReadOnlySpan<byte> packed)
    {
        lock (_lock)
        {
            if (_packedBytes + packed.Length <= _mostPackedBytes || _fileFails)
            {
                _packedBytes += packed.Length;
                return null;
            }

            try
            {
                _file ??= OpenFile();
                RandomAccess.Write(_file, packed, _written);
                _written += packed.Length;
                return _written - packed.Length;
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                _fileFails = true;
                return null;
            }
        }
    }

    /// <summary>Reads packed cells again.</summary>
    /// <param name="at">Where they stand.</param>
    /// <param name="packed">Takes them.</param>
    internal void Load(long at, Span<byte> packed)
    {
        while (packed.Length > 0)
        {
            int read = RandomAccess.Read(_file!, packed, at);
            packed = read > 0 ? packed[read..] : throw new EndOfStreamException("the temporary file of the logs' cells was cut off");
            at += read;
        }
    }

    private static SafeFileHandle OpenFile()
    {
        string path = Path.Combine(Path.GetTempPath(), "chargeaudit-cells-" + Path.GetRandomFileName());
        var file = File.OpenHandle(path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Delete, FileOptions.DeleteOnClose);
        if (!OperatingSystem.IsWindows())
        {
            // Its name goes at once, so that a program that is killed leaves nothing; Windows sees to that itself.
            File.Delete(path);
        }

        return file;
    }
}
