using System.Buffers.Binary;

namespace ChargeAudit.Logs.Formats;

/// <summary>
/// Whether the pages of a column hold the values that their heads name: the levels, which say what values are missing, add up to the
/// page's rows, and the bytes behind them to the values that are there.
/// </summary>
/// <param name="leaf">The column.</param>
/// <param name="mostTextBytes">What all its texts may take when they are written out. [byte]</param>
/// <remarks><i>Source:</i> Apache Parquet format, Data Pages and Encodings (numbers of the encodings).</remarks>
internal sealed class ParquetValues(ParquetLeaf leaf, long mostTextBytes)
{
    private const int Truth = 0;
    private const int Text = 6;
    private const int ByRuns = 3;

    private readonly int _levelWidth = 32 - System.Numerics.BitOperations.LeadingZeroCount((uint)leaf.Optional);
    private long _inDictionary;
    private long _textBytes;

    /// <summary>Rows without a value so far.</summary>
    public long Missing { get; private set; }

    /// <summary>Goes through a dictionary.</summary>
    /// <param name="page">Its head.</param>
    /// <param name="values">Its bytes, unpacked.</param>
    /// <exception cref="InvalidDataException">It does not hold what it says.</exception>
    public void CheckDictionary(ParquetPage page, ReadOnlySpan<byte> values)
    {
        _inDictionary = page.Values;
        CheckPlain(values, page.Values);
    }

    /// <summary>Goes through a page of values.</summary>
    /// <param name="page">Its head.</param>
    /// <param name="levels">Of the second version: the levels, which are not packed.</param>
    /// <param name="values">Its bytes, unpacked; of the first version with the levels before the values.</param>
    /// <exception cref="InvalidDataException">It does not hold what it says.</exception>
    public void CheckPage(ParquetPage page, ReadOnlySpan<byte> levels, ReadOnlySpan<byte> values)
    {
        long there = page.Values;
        if (leaf.Optional > 0)
        {
            levels = page.IsSecond ? levels : page.LevelEncoding == ByRuns ? Sized(ref values) : throw ThriftFields.Damaged();
            there = ParquetRuns.Count(levels, _levelWidth, page.Values, leaf.Optional);
        }

        Missing += page.Values - there;
        if (page.IsSecond && page.Missing != page.Values - there)
        {
            throw ThriftFields.Damaged();
        }

        // Of no values some writers leave a head, and some nothing.
        if (there > 0)
        {
            CheckValues(page.Encoding, values, there);
        }
    }

    private void CheckValues(long encoding, ReadOnlySpan<byte> values, long there)
    {
        switch (encoding)
        {
            case 0:
                CheckPlain(values, there);
                break;
            case 2 or 8:
                if (values.IsEmpty)
                {
                    throw ThriftFields.Damaged();
                }

                ParquetRuns.Count(values[1..], values[0], there, _inDictionary - 1);
                break;
            case ByRuns:
                ParquetRuns.Count(Sized(ref values), 1, there, 1);
                Exact(0, values.Length);
                break;
            case 5:
                ParquetDifferences.Read(ref values, there, static _ => { });
                break;
            case 6:
                Exact(Lengths(ref values, there), values.Length);
                break;
            case 7:
                CheckBegunTexts(values, there);
                break;
            default:
                Exact(there * leaf.ValueBytes, values.Length);
                break;
        }
    }

    private void CheckPlain(ReadOnlySpan<byte> values, long there)
    {
        if (leaf.Type != Text)
        {
            Exact(leaf.Type == Truth ? (there + 7) / 8 : there * leaf.ValueBytes, values.Length);
            return;
        }

        for (; there > 0; there--)
        {
            Sized(ref values);
        }

        Exact(0, values.Length);
    }

    // Each text says how much of the one before it begins with: written out, a few bytes may be very many.
    private void CheckBegunTexts(ReadOnlySpan<byte> values, long there)
    {
        var begins = new List<int>();
        ParquetDifferences.Read(ref values, there, n => begins.Add(Length(n)));
        long before = 0;
        int at = 0;
        long all = 0;
        ParquetDifferences.Read(ref values, there, n =>
        {
            int begin = begins[at++];
            before = begin <= before ? begin + (long)Length(n) : throw ThriftFields.Damaged();
            all += n;
            if ((_textBytes += before) > mostTextBytes)
            {
                throw new InvalidDataException("its texts would take too much room");
            }
        });
        Exact(all, values.Length);
    }

    private static long Lengths(ref ReadOnlySpan<byte> values, long there)
    {
        long all = 0;
        ParquetDifferences.Read(ref values, there, n => all += Length(n));
        return all;
    }

    private static int Length(long number) => number is >= 0 and <= int.MaxValue ? (int)number : throw ThriftFields.Damaged();

    // Bytes with their length before them.
    private static ReadOnlySpan<byte> Sized(scoped ref ReadOnlySpan<byte> bytes)
    {
        long length = bytes.Length >= 4 ? BinaryPrimitives.ReadUInt32LittleEndian(bytes) : long.MaxValue;
        if (length > bytes.Length - 4)
        {
            throw ThriftFields.Damaged();
        }

        ReadOnlySpan<byte> sized = bytes.Slice(4, (int)length);
        bytes = bytes[(4 + (int)length)..];
        return sized;
    }

    private static void Exact(long wanted, long found)
    {
        if (wanted != found)
        {
            throw ThriftFields.Damaged();
        }
    }
}
