namespace ChargeAudit.Logs.Formats;

/// <summary>A column as the schema of a Parquet file describes it.</summary>
/// <param name="Path">The names that lead to it, each on a line.</param>
/// <param name="Type">Physical type.</param>
/// <param name="TypeBytes">Of values that all have one length: that length. [byte]</param>
/// <param name="Optional">How many of the names may be missing: the level of a value that is there.</param>
/// <param name="IsRepeated">Whether a row may hold several of its values.</param>
/// <remarks><i>Source:</i> Apache Parquet format, parquet.thrift: SchemaElement; "Nested Encoding" (levels).</remarks>
internal sealed record ParquetLeaf(string Path, long Type, long TypeBytes, int Optional, bool IsRepeated)
{
    private const int MostDepth = 64;
    private const int FixedBytes = 7;
    private const int MostTypeBytes = 1 << 20;

    /// <summary>Length of a value that is written plainly; 0 where it is not the same for all. [byte]</summary>
    public long ValueBytes => Type switch
    {
        1 or 4 => 4,
        2 or 5 => 8,
        3 => 12,
        FixedBytes => TypeBytes,
        _ => 0,
    };

    /// <summary>The columns, in the order in which every row group holds them.</summary>
    /// <param name="schema">The schema's elements: a root, then each with what it holds behind it.</param>
    /// <exception cref="InvalidDataException">They are no tree.</exception>
    public static List<ParquetLeaf> Of(IReadOnlyList<Element> schema)
    {
        List<ParquetLeaf> leaves = [];
        int at = 1;
        for (long i = 0; schema.Count > 0 && i < schema[0].Children; i++)
        {
            Add("", 0, false, 0);
        }

        return at == schema.Count ? leaves : throw ThriftFields.Damaged();

        void Add(string above, int optional, bool repeated, int depth)
        {
            if (at >= schema.Count || depth > MostDepth)
            {
                throw ThriftFields.Damaged();
            }

            Element own = schema[at++];
            string path = above.Length == 0 ? own.Name : $"{above}\n{own.Name}";
            optional += own.Repetition is 1 or 2 ? 1 : 0;
            repeated |= own.Repetition == 2;
            for (long i = 0; i < own.Children; i++)
            {
                Add(path, optional, repeated, depth + 1);
            }

            if (own.Children <= 0)
            {
                if (own.Type == FixedBytes && own.TypeBytes is <= 0 or > MostTypeBytes)
                {
                    throw ThriftFields.Damaged();
                }

                leaves.Add(new ParquetLeaf(path, own.Type, own.TypeBytes, optional, repeated));
            }
        }
    }

    /// <summary>One element of a schema.</summary>
    /// <param name="Name">Its name.</param>
    /// <param name="Type">Physical type; -1 where it has none.</param>
    /// <param name="TypeBytes">Length of values that all have one. [byte]</param>
    /// <param name="Repetition">0: always there, 1: may be missing, 2: any number of times.</param>
    /// <param name="Children">How many elements it holds.</param>
    public readonly record struct Element(string Name, long Type, long TypeBytes, long Repetition, long Children)
    {
        /// <summary>Reads one, as it stands in a footer.</summary>
        /// <param name="footer">At its beginning.</param>
        public static Element From(ThriftFields footer)
        {
            long[] found = [0, -1, 0, 0, 0, 0];
            string name = "";
            footer.ReadStruct(id =>
            {
                if (id == 4)
                {
                    name = footer.ReadText();
                    return true;
                }

                if (id is not (1 or 2 or 3 or 5))
                {
                    return false;
                }

                found[id] = footer.ReadInteger();
                return true;
            });
            return new Element(name, found[1], found[2], found[3], found[5]);
        }
    }
}
