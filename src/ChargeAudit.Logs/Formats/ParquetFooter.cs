namespace ChargeAudit.Logs.Formats;

/// <summary>What the footer of a Parquet file says of its columns and row groups.</summary>
/// <remarks><i>Source:</i> Apache Parquet format, parquet.thrift: FileMetaData, RowGroup, ColumnChunk, ColumnMetaData; the numbers are those
/// of the fields there.</remarks>
internal sealed class ParquetFooter
{
    private const int MostFields = 4096;
    private const int MostGroups = 20_000;
    private const int MostChunks = 100_000;
    private const int Statistics = 12;

    private int _chunks;

    private ParquetFooter(ThriftFields footer)
    {
        List<ParquetLeaf.Element> schema = [];
        footer.ReadStruct(id =>
        {
            switch (id)
            {
                case 2:
                    footer.ReadStructs(MostFields, () => schema.Add(ParquetLeaf.Element.From(footer)));
                    return true;
                case 4:
                    footer.ReadStructs(MostGroups, () => Groups.Add(ReadGroup(footer)));
                    return true;
                default:
                    return false;
            }
        });
        if (schema.Count < 2)
        {
            throw new InvalidDataException("it names no columns");
        }

        Leaves = ParquetLeaf.Of(schema);
    }

    /// <summary>The columns.</summary>
    public IReadOnlyList<ParquetLeaf> Leaves { get; }

    /// <summary>The row groups.</summary>
    public List<Group> Groups { get; } = [];

    /// <summary>Reads a footer.</summary>
    /// <param name="bytes">Its bytes.</param>
    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static ParquetFooter Of(byte[] bytes) => new(ThriftFields.Checked(bytes, ThriftShape.Footer));

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
        long? missing = null;
        string path = "";
        footer.ReadStruct(id =>
        {
            if (id != 3)
            {
                return false;
            }

            footer.ReadStruct(field =>
            {
                switch (field)
                {
                    case 3:
                        path = string.Join('\n', footer.ReadTexts());
                        return true;
                    case 1 or 4 or 5 or 7 or 9 or 11:
                        found[field] = footer.ReadInteger();
                        return true;
                    case Statistics:
                        footer.ReadStruct(f =>
                        {
                            missing = f == 3 ? footer.ReadInteger() : missing;
                            return f == 3;
                        });
                        return true;
                    default:
                        return false;
                }
            });
            return true;
        });
        long from = found[11] > 0 ? Math.Min(found[9], found[11]) : found[9];
        return new Chunk(path, found[1], found[4], found[5], found[7], from, missing);
    }

    /// <summary>A row group.</summary>
    /// <param name="Rows">How many rows it holds.</param>
    /// <param name="Chunks">A stretch of each column.</param>
    internal sealed record Group(long Rows, List<Chunk> Chunks);

    /// <summary>The stretch of a column in a row group.</summary>
    /// <param name="Path">The names that lead to the column, each on a line.</param>
    /// <param name="Type">Physical type.</param>
    /// <param name="Codec">How its pages are packed.</param>
    /// <param name="Values">How many values it holds, with those that are missing.</param>
    /// <param name="PackedBytes">Its length. [byte]</param>
    /// <param name="From">Where it begins. [byte]</param>
    /// <param name="Missing">How many of its values are missing; null where it does not say.</param>
    internal sealed record Chunk(string Path, long Type, long Codec, long Values, long PackedBytes, long From, long? Missing)
    {
        private const int ByteArray = 6;

        /// <summary>Whether its values are texts, or bytes of any length.</summary>
        public bool IsText => Type == ByteArray;

        /// <summary>Whether its values can be written so: plain and by dictionary anything, by runs a truth, by differences whole numbers
        /// or texts, split by bytes what has a fixed length.</summary>
        /// <param name="encoding">Number of the encoding.</param>
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
    }
}
