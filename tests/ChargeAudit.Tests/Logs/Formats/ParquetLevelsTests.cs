using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;
using static ChargeAudit.Tests.Logs.Formats.HandmadeParquet;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>Columns with missing values: the levels say which, and where they do not fit what is there the library would give the wrong
/// rows, or what lay in its memory. The rows are 4.5 W but for the last, which is missing.</summary>
/// <remarks>*Source:* Apache Parquet format, Data Pages and Encodings: every number here is worked out from the definition.</remarks>
public sealed class ParquetLevelsTests
{
    // A bit for the width of an index, then 19 times index 1 as a run; or 24 bits, of which 19 are meant.
    private static readonly byte[] IndexRun = [1, 38, 1];
    private static readonly byte[] IndexBits = [1, 7, 0xFF, 0xFF, 0x07];

    public static TheoryData<string> Sound() => [.. SoundFiles.Keys];

    public static TheoryData<string> Damaged() => [.. DamagedFiles.Keys];

    private static readonly Dictionary<string, HandmadeParquet> SoundFiles = new()
    {
        ["plain"] = new(),
        ["plain, of the second version"] = new() { IsSecond = true },
        ["levels in bits"] = new() { Levels = [7, 0xFF, 0xFF, 0x07] },
        ["levels in bits and runs"] = new() { Levels = [3, 0xFF, 22, 1, 2, 0] },
        ["dictionary"] = new() { Dictionary = [7, 4.5], Encoding = 8, Values = IndexRun },
        ["dictionary, in bits"] = new() { Dictionary = [7, 4.5], Encoding = 2, Values = IndexBits },
        ["bytes split"] =
            new() { Encoding = 9, Values = [.. Doubles(1).SelectMany(b => Enumerable.Repeat(b, 19))] },
    };

    private static readonly Dictionary<string, HandmadeParquet> DamagedFiles = new()
    {
        ["a row fewer"] = new() { Levels = Runs((19, 1)) },
        ["a row more"] = new() { Levels = Runs((19, 1), (2, 0)) },
        ["a run behind the last"] = new() { Levels = Runs((19, 1), (1, 0), (1, 0)) },
        ["a run of none"] = new() { Levels = Runs((19, 1), (0, 1), (1, 0)) },
        ["one there that is not"] = new() { Levels = Runs((20, 1)), Missing = 0 },
        ["one not there that is"] = new() { Levels = Runs((18, 1), (2, 0)), Missing = 2 },
        ["a level of two"] = new() { Levels = Runs((19, 1), (1, 2)) },
        ["levels longer than they are"] = new() { LevelsLonger = 1 },
        ["levels longer than the page"] = new() { LevelsLonger = 1 << 20 },
        ["levels shorter than they are"] = new() { LevelsLonger = -1 },
        ["levels in another encoding"] = new() { LevelEncoding = 4 },
        ["a value fewer"] = new() { Values = Doubles(18) },
        ["a value more"] = new() { Values = Doubles(20) },
        ["a byte fewer"] = new() { Values = Doubles(19)[..^1] },
        ["of the second version, a row fewer"] = new() { IsSecond = true, Levels = Runs((19, 1)) },
        ["of the second version, another number missing"] = new() { IsSecond = true, Missing = 2 },
        ["of the second version, levels longer"] = new() { IsSecond = true, LevelsLonger = 1 },
        ["another number missing"] = new() { Missing = 2 },
        ["an index fewer"] = new() { Dictionary = [7, 4.5], Encoding = 8, Values = [1, 36, 1] },
        ["an index more"] = new() { Dictionary = [7, 4.5], Encoding = 8, Values = [1, 40, 1] },
        ["indexes in bits that end early"] = new() { Dictionary = [7, 4.5], Encoding = 8, Values = [1, 7, 0xFF, 0xFF] },
        ["an index that is not in the dictionary"] = new() { Dictionary = [4.5], Encoding = 8, Values = IndexRun },
        ["more missing, with indexes in bits"] =
            new() { Dictionary = [7, 4.5], Encoding = 8, Values = IndexBits, Levels = Runs((18, 1), (2, 0)) },
        ["bytes split, one short"] = new() { Encoding = 9, Values = Doubles(19)[..^1] },
        ["another column's name"] = new() { Chunk = ("time_s", 5) },
        ["another column's type"] = new() { Chunk = ("power_W", 2) },
        ["another sum"] = new() { Sum = 1 },
    };

    [Theory]
    [MemberData(nameof(Sound))]
    public void Levels_that_fit_are_read(string name)
    {
        HandmadeParquet file = SoundFiles[name];

        LogText.Read read = LogText.Of(file.Bytes(), name: "log.parquet");

        Assert.Equal((Rows - file.Missing, file.Missing), (read.Outcome.Rows, read.Outcome.RowsSkipped));
        Assert.Equal(Enumerable.Range(0, Rows - file.Missing).Select(i => (double)i), read.Samples.Select(s => s.TimeS));
        Assert.All(read.Samples, s => Assert.Equal(4.5, s.PowerW));
    }

    [Theory]
    [MemberData(nameof(Damaged))]
    public void Levels_that_do_not_fit_are_refused(string name)
    {
        InputException refused = Assert.Throws<InputException>(() => LogText.Of(DamagedFiles[name].Bytes(), name: "log.parquet"));

        Assert.Contains("log.parquet begins as Parquet but cannot be unpacked", refused.Message, StringComparison.Ordinal);
    }

    /// <summary>CRC-32 as RFC 1952 defines it, bit by bit, of the page's own bytes: its length before the levels, these, the values.</summary>
    [Fact]
    public void A_page_whose_sum_is_right_is_read()
    {
        uint sum = uint.MaxValue;
        foreach (byte b in (byte[])[4, 0, 0, 0, .. new HandmadeParquet().Levels, .. Doubles(19)])
        {
            for (int bit = 0; bit < 8; bit++)
            {
                bool odd = ((sum ^ (uint)(b >> bit)) & 1) != 0;
                sum = (sum >> 1) ^ (odd ? 0xEDB88320 : 0);
            }
        }

        Assert.Equal(19, LogText.Of(new HandmadeParquet { Sum = unchecked((int)~sum) }.Bytes(), name: "log.parquet").Outcome.Rows);
        Assert.Equal(0xCBF43926, ChargeAudit.Logs.Formats.ParquetSum.Of("123456789"u8));
    }
}
