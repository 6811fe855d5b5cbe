using System.IO.Compression;
using System.Text;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Sources;

/// <summary>Logs in archives and packed by Zstandard.</summary>
public sealed class PackingTests
{
    private static readonly string Log = "time,power (W)\n" + string.Concat(Enumerable.Range(0, 20).Select(i => $"{i},4.5\n"));

    // 80 MiB of blank lines, which pack to next to nothing.
    private static string Blanks => string.Concat(Enumerable.Repeat(new string(' ', 1023) + "\n", 80 << 10));

    [Fact]
    public void The_one_file_of_an_archive_is_read() =>
        Assert.Equal(20, LogText.Of(Zip(("any name", Log)), name: "log.zip").Samples.Count);

    [Fact]
    public void Of_several_files_the_one_that_is_a_log_is_read_and_told()
    {
        LogText.Read read =
            LogText.Of(Zip(("read me.txt", "How the meter was set up, and by whom."), ("data/", ""), ("data/log.csv", Log),
            ("picture.png", "x")), name: "log.zip");

        Assert.Equal(20, read.Samples.Count);
        Assert.Contains(read.Layout.Notes, n => n.StartsWith("\"data/log.csv\" was read from the archive", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_logs_in_one_archive_are_refused() =>
        Assert.Contains("holds 2 logs (\"a.csv\", \"b.csv\")", Refusal(Zip(("a.csv", Log), ("b.csv", Log)), "log.zip"),
            StringComparison.Ordinal);

    [Fact]
    public void An_archive_without_a_log_is_refused() =>
        Assert.Contains("no log that could be told", Refusal(Zip(("a.png", "x"), ("b.png", "y")), "log.zip"), StringComparison.Ordinal);

    [Fact]
    public void A_member_of_another_format_is_read() =>
        Assert.Equal("json",
            LogText.Of(Zip(("log.json", "[{\"time_s\": 0, \"power_W\": 4}, {\"time_s\": 1, \"power_W\": 4}]")),
            name: "log.zip").Layout.Format);

    [Fact]
    public void A_cut_archive_is_refused() =>
        Assert.Contains("begins as ZIP", Refusal(Zip(("a.csv", Log))[..60], "log.zip"), StringComparison.Ordinal);

    [Fact]
    public void A_bomb_is_refused() =>
        Assert.Contains("500 times", Refusal(Zip(("a.csv", Log + new string('0', 80 << 20))), "log.zip"), StringComparison.Ordinal);

    [Fact]
    public void Zstandard_is_read_and_a_cut_file_is_refused()
    {
        byte[] packed = Zstandard(Log);

        Assert.Equal(20, LogText.Of(packed, name: "log.csv.zst").Samples.Count);
        Assert.Contains("begins as Zstandard", Refusal(packed[..^9], "log.csv.zst"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_bomb_by_Zstandard_is_refused() =>
        Assert.Contains("500 times", Refusal(Zstandard(Log + Blanks), "log.csv.zst"), StringComparison.Ordinal);

    private static string Refusal(byte[] bytes, string name) => Assert.Throws<InputException>(() => LogText.Of(bytes, name: name)).Message;

    private static byte[] Zstandard(string text)
    {
        using var packer = new ZstdSharp.Compressor();
        return packer.Wrap(Encoding.UTF8.GetBytes(text)).ToArray();
    }

    private static byte[] Zip(params (string Name, string Text)[] files)
    {
        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, text) in files)
            {
                using Stream member = zip.CreateEntry(name).Open();
                member.Write(Encoding.UTF8.GetBytes(text));
            }
        }

        return bytes.ToArray();
    }
}
