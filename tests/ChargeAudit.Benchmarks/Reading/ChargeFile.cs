using System.Buffers;
using System.Buffers.Text;

namespace ChargeAudit.Benchmarks.Reading;

/// <summary>How the rows of a made file give their time.</summary>
public enum TimeWriting
{
    /// <summary>Seconds since the start, with three decimals.</summary>
    ElapsedSeconds,

    /// <summary>ISO 8601 date and time in UTC, with three decimals.</summary>
    Iso8601,
}

/// <summary>Writes the log of an invented charge, of any length: a falling charging current, then the trickle of a full device, then the
/// bare pad.</summary>
public static class ChargeFile
{
    private const int Seed = 20_311;
    private static readonly DateTime Start = new(2031, 3, 4, 8, 15, 0, DateTimeKind.Utc);

    /// <summary>Writes a file with a row every millisecond: time, voltage and current.</summary>
    /// <returns>Bytes written.</returns>
    public static long Write(string path, long rows, TimeWriting writing)
    {
        using var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.Read, 1 << 20);
        file.Write(writing == TimeWriting.ElapsedSeconds ? "time_s,voltage_V,current_A\n"u8 : "timestamp,voltage_V,current_A\n"u8);
        var random = new Random(Seed);
        Span<byte> line = stackalloc byte[80];
        for (long i = 0; i < rows; i++)
        {
            double share = (double)i / rows;
            double amperes = share < 0.45 ? 1.9 : share < 0.8 ? 1.9 * Math.Exp(-8 * (share - 0.45)) : share < 0.95 ? 0.04 : 0.011;
            double volts = 5.11 - (0.05 * amperes) + (0.004 * (random.NextDouble() - 0.5));
            amperes *= 1 + (0.01 * (random.NextDouble() - 0.5));
            int used = writing == TimeWriting.ElapsedSeconds
                ? Put(line, 0, i / 1000.0, 3, (byte)',')
                : PutStamp(line, Start.AddMilliseconds(i));
            used = Put(line, used, volts, 5, (byte)',');
            used = Put(line, used, amperes, 6, (byte)'\n');
            file.Write(line[..used]);
        }

        return file.Length;
    }

    private static int Put(Span<byte> line, int at, double value, byte decimals, byte behind)
    {
        Utf8Formatter.TryFormat(value, line[at..], out int used, new StandardFormat('F', decimals));
        line[at + used] = behind;
        return at + used + 1;
    }

    private static int PutStamp(Span<byte> line, DateTime time)
    {
        // Round-trip form, cut to milliseconds: 2031-03-04T08:15:00.000Z.
        Utf8Formatter.TryFormat(time, line, out _, 'O');
        "Z,"u8.CopyTo(line[23..]);
        return 25;
    }
}
