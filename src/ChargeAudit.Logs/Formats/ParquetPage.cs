namespace ChargeAudit.Logs.Formats;

/// <summary>The head of a page of a Parquet column: what it says that follows.</summary>
/// <param name="Kind">0: values, 2: a dictionary, 3: values of the second version.</param>
/// <param name="HeadBytes">Length of the head itself. [byte]</param>
/// <param name="PackedBytes">Length of what follows. [byte]</param>
/// <param name="UnpackedBytes">What that unpacks to. [byte]</param>
/// <param name="Values">How many values it holds.</param>
/// <param name="Encoding">How they are written.</param>
/// <param name="LevelBytes">Of the second version: what lies unpacked before the packed values. [byte]</param>
/// <remarks><i>Source:</i> Apache Parquet format, parquet.thrift: PageHeader and its kinds; the numbers are those of the fields there.</remarks>
internal readonly record struct ParquetPage(long Kind, int HeadBytes, long PackedBytes, long UnpackedBytes, long Values, long Encoding,
    long LevelBytes)
{
    private const int LongestLength = 5;
    private const int DataPageV2 = 8;

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

        long[] found = new long[4];
        long values = 0;
        long encoding = 0;
        long levels = 0;
        var head = ThriftFields.Checked(bytes(at, most), ThriftShape.PageHead);
        head.ReadStruct(id =>
        {
            if (id is >= 1 and <= 3)
            {
                found[id] = head.ReadInteger();
                return true;
            }

            if (id is not (5 or 7 or 8))
            {
                return false;
            }

            int encodes = id == DataPageV2 ? 4 : 2;
            head.ReadStruct(field =>
            {
                bool isLevels = id == DataPageV2 && field is (5 or 6);
                if (field != 1 && field != encodes && !isLevels)
                {
                    return false;
                }

                long told = head.ReadInteger();
                values = field == 1 ? told : values;
                encoding = field == encodes ? told : encoding;
                levels += isLevels ? told : 0;
                return true;
            });
            return true;
        });
        return new ParquetPage(found[1], head.At, found[3], found[2], values, encoding, levels);
    }

    /// <summary>What a page packed by Snappy itself says that it unpacks to, which its reader believes before it unpacks the first byte. [byte]
    /// <i>Source:</i> Snappy compressed format description: a varint, seven bits a byte, the lowest first.</summary>
    /// <param name="bytes">Bytes of the file from a place on.</param>
    /// <param name="at">Where the packed bytes begin.</param>
    /// <param name="end">Where the column ends.</param>
    public static long LengthInside(Func<long, int, byte[]> bytes, long at, long end)
    {
        long length = 0;
        int shift = 0;
        foreach (byte part in at < end ? bytes(at, (int)Math.Min(LongestLength, end - at)) : [])
        {
            length |= (long)(part & 0x7F) << shift;
            shift += 7;
            if (part < 0x80)
            {
                break;
            }
        }

        return length;
    }
}
