namespace ChargeAudit.Logs.Formats;

/// <summary>The head of a page of a Parquet column: what it says that follows.</summary>
/// <param name="Kind">0: values, 2: a dictionary, 3: values of the second version.</param>
/// <param name="HeadBytes">Length of the head itself. [byte]</param>
/// <param name="PackedBytes">Length of what follows. [byte]</param>
/// <param name="UnpackedBytes">What that unpacks to. [byte]</param>
/// <param name="Values">How many values it holds, with those that are missing.</param>
/// <param name="Encoding">How they are written.</param>
/// <param name="LevelEncoding">Of the first version: how the levels are written.</param>
/// <param name="LevelBytes">Of the second version: what lies unpacked before the packed values. [byte]</param>
/// <param name="Missing">Of the second version: how many values are missing.</param>
/// <param name="IsPacked">Whether the values are packed as the column says.</param>
/// <param name="Sum">The sum of what follows, by 32 bits; null where it does not say.</param>
/// <remarks><i>Source:</i> Apache Parquet format, parquet.thrift: PageHeader and its kinds; the numbers are those of the fields there.</remarks>
internal readonly record struct ParquetPage(long Kind, int HeadBytes, long PackedBytes, long UnpackedBytes, long Values, long Encoding,
    long LevelEncoding, long LevelBytes, long Missing, bool IsPacked, uint? Sum)
{
    private const int DataPage = 5;
    private const int DictionaryPage = 7;
    private const int DataPageV2 = 8;
    private const int IsCompressed = 7;

    /// <summary>Whether it is of the second version.</summary>
    public bool IsSecond => Kind == 3;

    /// <summary>Whether it holds values.</summary>
    public bool IsData => Kind is 0 or 3;

    /// <summary>Reads the head of a page.</summary>
    /// <param name="bytes">Bytes of the file from a place on.</param>
    /// <param name="at">Where the head begins.</param>
    /// <param name="most">The longest that it can be. [byte]</param>
    /// <exception cref="InvalidDataException">It is damaged.</exception>
    public static ParquetPage At(Func<long, int, byte[]> bytes, long at, int most)
    {
        if (most <= 0)
        {
            throw ThriftFields.Damaged();
        }

        long[] found = new long[5];
        bool summed = false;
        long[] own = new long[7];
        bool packed = true;
        int kind = 0;
        var head = ThriftFields.Checked(bytes(at, most), ThriftShape.PageHead);
        head.ReadStruct(id =>
        {
            if (id is >= 1 and <= 4)
            {
                summed |= id == 4;
                found[id] = head.ReadInteger();
                return true;
            }

            if (id is not (DataPage or DictionaryPage or DataPageV2))
            {
                return false;
            }

            kind = kind == 0 ? id : throw ThriftFields.Damaged();
            head.ReadStruct(
                field =>
                {
                    if (field <= 0 || field >= own.Length || (field == 5 && id == DataPage))
                    {
                        return false;
                    }

                    own[field] = head.ReadInteger();
                    return true;
                },
                field => packed &= field != IsCompressed);
            return true;
        });
        if (kind != (found[1] switch { 0 => DataPage, 2 => DictionaryPage, 3 => DataPageV2, _ => 0 }))
        {
            throw ThriftFields.Damaged();
        }

        bool second = kind == DataPageV2;
        return new ParquetPage(found[1], head.At, found[3], found[2], own[1], own[second ? 4 : 2], second ? 0 : own[3],
            second ? Added(own[5], own[6]) : 0, second ? own[2] : 0, packed,
            summed ? unchecked((uint)found[4]) : null);
    }

    private static long Added(long one, long other) => one >= 0 && other >= 0 ? one + other : throw ThriftFields.Damaged();
}
