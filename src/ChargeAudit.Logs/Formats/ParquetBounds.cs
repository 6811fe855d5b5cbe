namespace ChargeAudit.Logs.Formats;

/// <summary>
/// Looks at what a Parquet file claims before its reader believes it: the footer, then the head of every page. Sizes must lie within the
/// file, counts must add up, every page must bring the reading on, and what a row group takes unpacked must fit a fixed room.
/// </summary>
/// <remarks>*Source:* Apache Parquet format, parquet.thrift: FileMetaData, RowGroup, ColumnChunk, ColumnMetaData, PageHeader and its kinds;
/// the numbers are those of the fields there.</remarks>
internal sealed class ParquetBounds
{
    /// <summary>Room for the columns of one row group, unpacked, with what reading them takes. [byte]</summary>
    public const long RoomBytes = 160L << 20;

    private const int LongestFooter = 16 << 20;
    private const int LongestPageHead = 1 << 16;
    private const int MostFields = 4096;
    private const int MostGroups = 20_000;
    private const int MostChunks = 100_000;

    // A value and whether there is one; a text is an object of its own as well.
    private const int BytesAValue = 16;
    private const int BytesAText = 48;
    private const int ByteArray = 6;
    private const int Snappy = 1;
    private const int DictionaryPage = 2;

    // By physical type: for a boolean and for bytes of one length nothing can be said, a text has its length before it.
    private static readonly int[] LeastBytes = [0, 4, 8, 12, 4, 8, 4, 0];

    private readonly string _path;
    private readonly Stream _file;
    private int _chunks;

    private ParquetBounds(string path, Stream file) => (_path, _file) = (path, file);

    /// <summary>Refuses a file that claims what cannot be, or takes too much room; leaves the stream at its beginning.</summary>
    /// <param name="path">Name for messages.</param>
    /// <param name="file">The file.</param>
    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static void Check(string path, Stream file)
    {
        new ParquetBounds(path, file).Check();
        file.Position = 0;
    }

    private void Check()
    {
        if (_file.Length < 12)
        {
            throw ThriftFields.Damaged();
        }

        byte[] end = Bytes(_file.Length - 8, 8);
        int length = ThriftFields.LengthAt(end);
        if (!end.AsSpan(4).SequenceEqual("PAR1"u8) || length <= 0 || length > Math.Min(LongestFooter, _file.Length - 12))
        {
            throw ThriftFields.Damaged();
        }

        List<Group> groups = [];
        int fields = 0;
        var footer = ThriftFields.Checked(Bytes(_file.Length - 8 - length, length), ThriftShape.Footer);
        footer.ReadStruct(id =>
        {
            switch (id)
            {
                case 2:
                    footer.ReadStructs(MostFields, () =>
                    {
                        fields++;
                        footer.ReadStruct(_ => false);
                    });
                    return true;
                case 4:
                    footer.ReadStructs(MostGroups, () => groups.Add(ReadGroup(footer)));
                    return true;
                default:
                    return false;
            }
        });
        if (fields < 2)
        {
            throw new InvalidDataException("it names no columns");
        }

        groups.ForEach(g => Check(g, fields - 1));
    }

    private Group ReadGroup(ThriftFields footer)
    {
        List<Chunk> chunks = [];
        long rows = 0;
        footer.ReadStruct(id =>
        {
            switch (id)
            {
                case 1:
                    footer.ReadStructs(MostFields, () => chunks.Add(ReadChunk(footer)));
                    return true;
                case 3:
                    rows = footer.ReadInteger();
                    return true;
                default:
                    return false;
            }
        });
        return new Group(rows, chunks);
    }

    private Chunk ReadChunk(ThriftFields footer)
    {
        if (++_chunks > MostChunks)
        {
            throw ThriftFields.Damaged();
        }

        long[] found = new long[12];
        footer.ReadStruct(id =>
        {
            if (id != 3)
            {
                return false;
            }

            footer.ReadStruct(field =>
            {
                if (field is not (1 or 4 or 5 or 7 or 9 or 11))
                {
                    return false;
                }

                found[field] = footer.ReadInteger();
                return true;
            });
            return true;
        });
        return new Chunk(found[1], found[4], found[5], found[7], found[11] > 0 ? Math.Min(found[9], found[11]) : found[9]);
    }

    private void Check(Group group, int columns)
    {
        long room = 0;
        long largest = 0;
        if (group.Rows < 0 || group.Rows > RoomBytes / BytesAValue / columns)
        {
            throw group.Rows < 0 ? ThriftFields.Damaged() : LogErrors.GroupTooLarge(_path, group.Rows, RoomBytes);
        }

        foreach (Chunk chunk in group.Chunks)
        {
            if (chunk.Values < 0 || chunk.Values > Math.Max(group.Rows, RoomBytes))
            {
                throw ThriftFields.Damaged();
            }

            long unpacked = CheckPages(chunk);
            largest = Math.Max(largest, unpacked);
            room += (Math.Max(group.Rows, chunk.Values) * (BytesAValue + (chunk.IsText ? BytesAText : 0)))
                + (chunk.IsText ? 2 * unpacked : 0);
            if (room + largest > RoomBytes)
            {
                throw LogErrors.GroupTooLarge(_path, group.Rows, RoomBytes);
            }
        }
    }

    // Goes from head to head of a column's pages, as its reader will, and adds up what they unpack to.
    private long CheckPages(Chunk chunk)
    {
        long at = chunk.From;
        long end = at + chunk.PackedBytes;
        long values = 0;
        long unpacked = 0;
        bool listed = false;
        if (at < 4 || chunk.PackedBytes < 0 || end > _file.Length)
        {
            throw ThriftFields.Damaged();
        }

        while (values < chunk.Values)
        {
            ParquetPage page = ParquetPage.At(Bytes, at, (int)Math.Min(LongestPageHead, end - at));
            bool isData = page.Kind is 0 or 3;
            if (page.PackedBytes < 0 || page.UnpackedBytes < 0 || page.Values < 0 || page.LevelBytes < 0 || (isData && page.Values == 0)
                || at + page.HeadBytes + page.PackedBytes > end)
            {
                throw ThriftFields.Damaged();
            }

            // The reader would fill what such a page lacks with whatever lay in its memory.
            listed |= page.Kind == DictionaryPage;
            if ((page.Kind == DictionaryPage && page.UnpackedBytes < page.Values * chunk.LeastBytesAValue)
                || (isData && (!chunk.CanBe(page.Encoding) || (page.Encoding is 2 or 8 && !listed))))
            {
                throw ThriftFields.Damaged();
            }

            if (chunk.Codec == Snappy && ParquetPage.LengthInside(Bytes, at + page.HeadBytes + page.LevelBytes, end) > page.UnpackedBytes)
            {
                throw ThriftFields.Damaged();
            }

            unpacked += page.UnpackedBytes;
            values += isData ? page.Values : 0;
            if (unpacked > RoomBytes || page.Values > Math.Max(chunk.Values, page.UnpackedBytes))
            {
                throw unpacked > RoomBytes ? LogErrors.GroupTooLarge(_path, chunk.Values, RoomBytes) : ThriftFields.Damaged();
            }

            at += page.HeadBytes + page.PackedBytes;
        }

        return values == chunk.Values ? unpacked : throw ThriftFields.Damaged();
    }

    private byte[] Bytes(long from, int count)
    {
        byte[] bytes = new byte[count];
        _file.Position = from;
        _file.ReadExactly(bytes);
        return bytes;
    }

    private sealed record Group(long Rows, List<Chunk> Chunks);

    private sealed record Chunk(long Type, long Codec, long Values, long PackedBytes, long From)
    {
        public bool IsText => Type == ByteArray;

        // Plain and by dictionary anything, by runs a truth, by differences whole numbers or texts, split by bytes what has a fixed length.
        public bool CanBe(long encoding) => encoding switch
        {
            0 or 2 or 8 => true,
            3 => Type == 0,
            5 => Type is 1 or 2,
            6 => Type is ByteArray,
            7 => Type is ByteArray or 7,
            9 => Type is 1 or 2 or 4 or 5 or 7,
            _ => false,
        };

        public int LeastBytesAValue => Type >= 0 && Type < LeastBytes.Length ? LeastBytes[Type] : 0;
    }
}
