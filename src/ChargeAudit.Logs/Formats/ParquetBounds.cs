namespace ChargeAudit.Logs.Formats;

/// <summary>
/// Looks at what a Parquet file claims before its reader believes it: the footer, then every page. Sizes must lie within the file, counts
/// must add up, every page must bring the reading on and hold the values that it names, and what a row group takes unpacked must fit a
/// fixed room.
/// </summary>
internal sealed class ParquetBounds
{
    /// <summary>Room for the columns of one row group, unpacked, with what reading them takes. [byte]</summary>
    public const long RoomBytes = 160L << 20;

    private const int LongestFooter = 16 << 20;
    private const int LongestPageHead = 1 << 16;

    // A value and whether there is one; a text is an object of its own as well.
    private const int BytesAValue = 16;
    private const int BytesAText = 48;
    private const int DictionaryPage = 2;

    private readonly string _path;
    private readonly Stream _file;
    private byte[] _packed = [];
    private byte[] _unpacked = [];

    private ParquetBounds(string path, Stream file) => (_path, _file) = (path, file);

    /// <summary>Refuses a file that claims what cannot be, or takes too much room; leaves the stream at its beginning.</summary>
    /// <param name="path">Name for messages.</param>
    /// <param name="file">The file.</param>
    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static void Check(string path, Stream file)
    {
        var bounds = new ParquetBounds(path, file);
        var footer = ParquetFooter.Of(bounds.FooterBytes());
        footer.Groups.ForEach(g => bounds.Check(g, footer.Leaves));
        file.Position = 0;
    }

    /// <summary>Refuses a file whose footer is damaged, and looks at nothing else; leaves the stream at its beginning.</summary>
    /// <param name="path">Name for messages.</param>
    /// <param name="file">The file.</param>
    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static void CheckFooter(string path, Stream file)
    {
        ParquetFooter.Of(new ParquetBounds(path, file).FooterBytes());
        file.Position = 0;
    }

    private byte[] FooterBytes()
    {
        if (_file.Length < 12)
        {
            throw ThriftFields.Damaged();
        }

        byte[] end = Bytes(_file.Length - 8, 8);
        int length = ThriftFields.LengthAt(end);
        return end.AsSpan(4).SequenceEqual("PAR1"u8) && length > 0 && length <= Math.Min(LongestFooter, _file.Length - 12)
            ? Bytes(_file.Length - 8 - length, length)
            : throw ThriftFields.Damaged();
    }

    private void Check(ParquetFooter.Group group, IReadOnlyList<ParquetLeaf> leaves)
    {
        if (group.Rows < 0 || group.Rows > RoomBytes / BytesAValue / leaves.Count)
        {
            throw group.Rows < 0 ? ThriftFields.Damaged() : TooLarge(group.Rows);
        }

        if (group.Chunks.Count != leaves.Count)
        {
            throw ThriftFields.Damaged();
        }

        long room = 0;
        for (int i = 0; i < leaves.Count; i++)
        {
            ParquetFooter.Chunk chunk = group.Chunks[i];
            if (chunk.Values < 0 || chunk.Values > Math.Max(group.Rows, RoomBytes) || chunk.Path != leaves[i].Path
                || chunk.Type != leaves[i].Type)
            {
                throw ThriftFields.Damaged();
            }

            room += Math.Max(group.Rows, chunk.Values) * (BytesAValue + (chunk.IsText ? BytesAText : 0));
            long unpacked = CheckPages(chunk, leaves[i], RoomBytes - room);
            room += chunk.IsText ? 2 * unpacked : 0;
        }
    }

    // Goes from head to head of a column's pages, as its reader will, and adds up what they unpack to.
    private long CheckPages(ParquetFooter.Chunk chunk, ParquetLeaf leaf, long room)
    {
        long at = chunk.From;
        long end = at + chunk.PackedBytes;
        long count = 0;
        long unpacked = 0;
        var values = new ParquetValues(leaf, room / 2);
        if (at < 4 || chunk.PackedBytes < 0 || end > _file.Length)
        {
            throw ThriftFields.Damaged();
        }

        bool listed = false;
        while (count < chunk.Values)
        {
            ParquetPage page = ParquetPage.At(Bytes, at, (int)Math.Min(LongestPageHead, end - at));
            at += page.HeadBytes;
            if (page.PackedBytes < page.LevelBytes || page.UnpackedBytes < page.LevelBytes || page.Values < 0 || page.LevelBytes < 0
                || (page.IsData && (page.Values == 0 || page.Values > chunk.Values - count))
                || page.Values > Math.Max(chunk.Values, page.UnpackedBytes) || page.PackedBytes > end - at)
            {
                throw ThriftFields.Damaged();
            }

            unpacked += page.UnpackedBytes;
            if (unpacked > room / (chunk.IsText ? 3 : 1))
            {
                throw TooLarge(chunk.Values);
            }

            // The reader would fill what such a page lacks with whatever lay in its memory.
            listed |= page.Kind == DictionaryPage;
            if (page.IsData && (!chunk.CanBe(page.Encoding) || (page.Encoding is 2 or 8 && !listed)))
            {
                throw ThriftFields.Damaged();
            }

            // What a row holds several of is not read.
            if (!leaf.IsRepeated)
            {
                CheckPage(chunk, page, at, values);
            }

            at += page.PackedBytes;
            count += page.IsData ? page.Values : 0;
        }

        return leaf.IsRepeated || chunk.Missing is null || chunk.Missing == values.Missing ? unpacked : throw ThriftFields.Damaged();
    }

    private void CheckPage(ParquetFooter.Chunk chunk, ParquetPage page, long at, ParquetValues values)
    {
        int levels = (int)page.LevelBytes;
        int packed = (int)page.PackedBytes;
        int unpacked = (int)page.UnpackedBytes - levels;
        _packed = _packed.Length < packed ? new byte[packed] : _packed;
        _unpacked = _unpacked.Length < unpacked ? new byte[unpacked] : _unpacked;
        _file.Position = at;
        _file.ReadExactly(_packed, 0, packed);
        if (page.Sum is { } sum && sum != ParquetSum.Of(_packed.AsSpan(0, packed)))
        {
            throw new InvalidDataException("the sum of a page is another than the page says");
        }

        Span<byte> to = _unpacked.AsSpan(0, unpacked);
        ParquetPacking.Unpack(page.IsPacked ? chunk.Codec : 0, _packed, levels, packed - levels, to);
        if (page.Kind == DictionaryPage)
        {
            values.CheckDictionary(page, to);
        }
        else if (page.IsData)
        {
            values.CheckPage(page, _packed.AsSpan(0, levels), to);
        }
    }

    private Metrology.Diagnostics.InputException TooLarge(long rows) => LogErrors.GroupTooLarge(_path, rows, RoomBytes);

    private byte[] Bytes(long from, int count)
    {
        byte[] bytes = new byte[count];
        _file.Position = from;
        _file.ReadExactly(bytes);
        return bytes;
    }
}
