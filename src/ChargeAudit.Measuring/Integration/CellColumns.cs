using System.Runtime.InteropServices;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Cells of an envelope column by column, bit for bit, in a third of the memory or less: most columns hold the same in all cells (one row
/// each, nothing lost by rounding, no bridges), or the same as the column before (least and greatest reading of one row).
/// </summary>
internal static class CellColumns
{
    private const byte AsBefore = 0;
    private const byte InRuns = 1;
    private const byte Plain = 2;
    private const int Word = sizeof(ulong);

    private static readonly int Columns = Marshal.SizeOf<EnvelopeBucket>() / Word;

    /// <summary>The cells as bytes, in the first bytes of an array that may be longer.</summary>
    /// <param name="cells">The cells.</param>
    /// <param name="room">Gives an array of at least so many bytes.</param>
    /// <param name="bytes">How many they are.</param>
    public static byte[] Pack(ReadOnlySpan<EnvelopeBucket> cells, Func<int, byte[]> room, out int bytes)
    {
        var words = MemoryMarshal.Cast<EnvelopeBucket, ulong>(cells);
        var kinds = new byte[Columns];
        bytes = Columns;
        for (int c = 0; c < Columns; c++)
        {
            int runs = Runs(words, c);
            kinds[c] = c > 0 && IsAsBefore(words, c) ? AsBefore : 2 * runs < cells.Length ? InRuns : Plain;
            bytes += kinds[c] switch { AsBefore => 0, InRuns => Word * (1 + (2 * runs)), _ => Word * cells.Length };
        }

        byte[] packed = room(bytes);
        kinds.CopyTo(packed, 0);
        var to = packed.AsSpan(Columns, bytes - Columns);
        for (int c = 0; c < Columns; c++)
        {
            int taken = kinds[c] switch
            {
                InRuns => WriteRuns(words, c, MemoryMarshal.Cast<byte, ulong>(to)),
                Plain => WritePlain(words, c, MemoryMarshal.Cast<byte, ulong>(to)),
                _ => 0,
            };
            to = to[(Word * taken)..];
        }

        return packed;
    }

    /// <summary>The cells that such bytes were made of.</summary>
    /// <param name="packed">The bytes.</param>
    /// <param name="count">Number of cells.</param>
    public static EnvelopeBucket[] Unpack(ReadOnlySpan<byte> packed, int count)
    {
        var cells = GC.AllocateUninitializedArray<EnvelopeBucket>(count);
        var words = MemoryMarshal.Cast<EnvelopeBucket, ulong>(cells.AsSpan());
        var from = packed[Columns..];
        for (int c = 0; c < Columns; c++)
        {
            int taken = 0;
            var column = MemoryMarshal.Cast<byte, ulong>(from);
            switch (packed[c])
            {
                case AsBefore:
                    for (int i = c; i < words.Length; i += Columns)
                    {
                        words[i] = words[i - 1];
                    }

                    break;
                case InRuns:
                    taken = ReadRuns(column, words, c);
                    break;
                default:
                    taken = count;
                    for (int i = 0; i < count; i++)
                    {
                        words[(i * Columns) + c] = column[i];
                    }

                    break;
            }

            from = from[(Word * taken)..];
        }

        return cells;
    }

    private static bool IsAsBefore(ReadOnlySpan<ulong> words, int column)
    {
        for (int i = column; i < words.Length; i += Columns)
        {
            if (words[i] != words[i - 1])
            {
                return false;
            }
        }

        return true;
    }

    private static int Runs(ReadOnlySpan<ulong> words, int column)
    {
        int runs = words.Length > 0 ? 1 : 0;
        for (int i = column + Columns; i < words.Length; i += Columns)
        {
            runs += words[i] != words[i - Columns] ? 1 : 0;
        }

        return runs;
    }

    private static int WritePlain(ReadOnlySpan<ulong> words, int column, Span<ulong> to)
    {
        int at = 0;
        for (int i = column; i < words.Length; i += Columns)
        {
            to[at++] = words[i];
        }

        return at;
    }

    // The number of runs, then value and length of each.
    private static int WriteRuns(ReadOnlySpan<ulong> words, int column, Span<ulong> to)
    {
        int runs = 0;
        for (int i = column; i < words.Length; i += Columns)
        {
            if (runs == 0 || words[i] != to[(2 * runs) - 1])
            {
                (to[(2 * runs) + 1], to[(2 * runs) + 2]) = (words[i], 0);
                runs++;
            }

            to[2 * runs]++;
        }

        to[0] = (ulong)runs;
        return 1 + (2 * runs);
    }

    private static int ReadRuns(ReadOnlySpan<ulong> from, Span<ulong> words, int column)
    {
        int runs = checked((int)from[0]), at = column;
        for (int r = 0; r < runs; r++)
        {
            ulong value = from[1 + (2 * r)];
            for (ulong n = from[2 + (2 * r)]; n > 0; n--)
            {
                words[at] = value;
                at += Columns;
            }
        }

        return 1 + (2 * runs);
    }
}
