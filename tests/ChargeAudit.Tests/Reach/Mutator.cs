using System.Globalization;
using System.Text;
using ChargeAudit.LogMaker;

namespace ChargeAudit.Tests.Reach;

/// <summary>Changes bytes as damage and malice do: flips, cuts, splices, doubled stretches, numbers and words that no file should
/// hold.</summary>
public static class Mutator
{
    private const int LongestInput = 1 << 20;

    private static readonly string[] Numbers =
    [
        "0", "-0", "-1", "1e308", "1.7976931348623157e308", "-1e308", "1e155", "4.9e-324", "1e-320", "NaN", "nan", "inf", "-Infinity",
            "9223372036854775807", "-9223372036854775808", "9223372036854775808",
        "2147483647", "-2147483648", "4294967296", "1772473200000000", "253402300800", "99999999999999999999999999", "1.5", "1e16", "0x7f",
            "٤٢", "1,5", "--5", "1e", "1e400", "-1e-400", "86400", "1e9", "1000000", "127", "4096",
    ];

    private static readonly string[] Words =
    [
        "\"", "'", "\\", "{", "}", "[", "]", "<", ">", "&", "null", "true", "\u001B[31m", "\u0007", "\u009B2J", "\u202E", "\0", "\uFEFF",
            "\uD83D", "=cmd|'/c x'!A1", "@SUM(1)", "+1", "-2", "\t", "\r", "\n", ",", ";", "|",
        "0001-01-01T00:00:00", "9999-12-31T23:59:59Z", "9999-12-31T23:59:59-14:00", "0001-01-01T00:00:00+14:00", "2031-02-30", "24:00:00",
            "23:59:60", "1e308 W", "50 %", "1e308 % + 1e308 W", "5 W", "kWh", "/", "../", "#", "sep=,",
        "<!DOCTYPE a [<!ENTITY b \"c\">]>", "<a ", "/>", "-->", "<![CDATA[", "=", "[[runs]]", "[use]", "\"\"\"", "-metadata.json",
    ];

    /// <summary>One to eight changes.</summary>
    /// <param name="seed">The bytes to change; they stay as they are.</param>
    /// <param name="other">Bytes to splice from.</param>
    /// <param name="dice">What decides.</param>
    public static byte[] Change(byte[] seed, byte[] other, Dice dice)
    {
        List<byte> bytes = [.. seed];
        int changes = 1 + (int)(dice.Unit() * dice.Unit() * 8);

        // Half of all inputs keep their form and only hold impossible numbers: others are mostly refused for their form.
        bool numbersOnly = dice.Chance(0.5);
        for (int i = 0; i < changes; i++)
        {
            if (numbersOnly)
            {
                SwapNumber(bytes, (int)(dice.Unit() * bytes.Count), dice);
            }
            else
            {
                One(bytes, other, dice);
            }
        }

        return bytes.Count <= LongestInput ? [.. bytes] : [.. bytes.Take(LongestInput)];
    }

    private static void One(List<byte> bytes, byte[] other, Dice dice)
    {
        int at = (int)(dice.Unit() * (bytes.Count + 1));
        int length = Math.Min(bytes.Count - at, 1 + (int)dice.Scale(1, 300));
        switch ((int)(dice.Unit() * 12))
        {
            case 0 when at < bytes.Count:
                bytes[at] = (byte)(bytes[at] ^ (1 << (int)(dice.Unit() * 8)));
                break;
            case 1 when at < bytes.Count:
                bytes[at] = dice.Of<byte>(0, 0xFF, 0x7F, 0x80, (byte)(dice.Unit() * 256));
                break;
            case 2 when dice.Chance(0.3):
                bytes.RemoveRange(at, bytes.Count - at);
                break;
            case 3:
                bytes.RemoveRange(at, length);
                break;
            case 4:
                bytes.InsertRange(at, bytes.GetRange(at, length));
                break;
            case 5 when other.Length > 0:
                int from = (int)(dice.Unit() * other.Length);
                bytes.InsertRange(at, other[from..Math.Min(other.Length, from + 1 + (int)dice.Scale(1, 300))]);
                break;
            case 6:
                bytes.InsertRange(at, Encoding.UTF8.GetBytes(dice.Of(Words)));
                break;
            case 7 when at < bytes.Count:
                bytes.InsertRange(at, Enumerable.Repeat(bytes[at], (int)dice.Scale(2, 5000)));
                break;
            default:
                SwapNumber(bytes, at, dice);
                break;
        }
    }

    private static void SwapNumber(List<byte> bytes, int at, Dice dice)
    {
        int from = bytes.FindIndex(Math.Min(at, bytes.Count), b => b is >= (byte)'0' and <= (byte)'9');
        if (from < 0)
        {
            return;
        }

        int to = from;
        while (to < bytes.Count && bytes[to] is (>= (byte)'0' and <= (byte)'9') or (byte)'.' or (byte)'e' or (byte)'E')
        {
            to++;
        }

        string written = Encoding.ASCII.GetString([.. bytes.GetRange(from, to - from)]);
        string swapped = dice.Chance(0.5) || !double.TryParse(written, NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
            ? dice.Of(Numbers)
            : (number * dice.Of(-1.0, 10, 1e3, 1e6, 1e-3, 1e-9, 1e300, 0.999, 2)).ToString("R", CultureInfo.InvariantCulture);
        bytes.RemoveRange(from, to - from);
        bytes.InsertRange(from, Encoding.UTF8.GetBytes(swapped));
    }
}
