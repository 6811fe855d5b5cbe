using System.Buffers;
using System.Runtime.InteropServices;

namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// Puts numbers in rising order: a few by insertion, many by the bytes of their bits. Native code asks the framework's sort for each
/// comparison through an interface, which takes several times as long.
/// </summary>
public static class RisingOrder
{
    private const int Few = 32;
    private const int Many = 64;
    private const int ByteValues = 256;
    private const ulong SignBit = 1UL << 63;

    /// <summary>Sorts in place. What is not a number comes first; zeros of either sign stand together, in no order.</summary>
    public static void Sort(Span<double> values)
    {
        if (values.Length > Many)
        {
            SortByBytes(values);
        }
        else if (values.Length > Few)
        {
            values.Sort();
        }
        else
        {
            Insert(values);
        }
    }

    private static void Insert(Span<double> values)
    {
        for (int i = 1; i < values.Length; i++)
        {
            double value = values[i];
            int at = i;
            while (at > 0 && (values[at - 1] > value || (double.IsNaN(value) && !double.IsNaN(values[at - 1]))))
            {
                values[at] = values[at - 1];
                at--;
            }

            values[at] = value;
        }
    }

    private static void SortByBytes(Span<double> values)
    {
        int count = values.Length;
        ulong[] rented = ArrayPool<ulong>.Shared.Rent(count);
        Span<ulong> from = MemoryMarshal.Cast<double, ulong>(values), to = rented.AsSpan(0, count);
        Span<int> counts = stackalloc int[sizeof(ulong) * ByteValues];
        counts.Clear();
        for (int i = 0; i < count; i++)
        {
            ulong key = Key(from[i], double.IsNaN(values[i]));
            from[i] = key;
            for (int place = 0; place < sizeof(ulong); place++)
            {
                counts[(place * ByteValues) + ByteOf(key, place)]++;
            }
        }

        for (int place = 0; place < sizeof(ulong); place++)
        {
            Span<int> starts = counts.Slice(place * ByteValues, ByteValues);
            if (starts[ByteOf(from[0], place)] == count)
            {
                continue;
            }

            int start = 0;
            foreach (ref int one in starts)
            {
                (one, start) = (start, start + one);
            }

            for (int i = 0; i < count; i++)
            {
                ulong key = from[i];
                to[starts[ByteOf(key, place)]++] = key;
            }

            Span<ulong> sorted = to;
            to = from;
            from = sorted;
        }

        for (int i = 0; i < count; i++)
        {
            values[i] = Value(from[i]);
        }

        ArrayPool<ulong>.Shared.Return(rented);
    }

    private static int ByteOf(ulong key, int place) => (int)((key >> (8 * place)) & (ByteValues - 1));

    // Bits that rise with the number: the sign turned over, and of negative numbers all the rest.
    private static ulong Key(ulong bits, bool isNaN) => isNaN ? 0 : (bits & SignBit) == 0 ? bits | SignBit : ~bits;

    private static double Value(ulong key) => key == 0 ? double.NaN
        : BitConverter.UInt64BitsToDouble((key & SignBit) == 0 ? ~key : key & ~SignBit);
}
