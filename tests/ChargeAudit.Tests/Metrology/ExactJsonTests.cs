using System.Text;
using System.Text.Json;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Metrology;

/// <summary>A JSON document that is written piece by piece holds no mark, wherever a piece ends.</summary>
public sealed class ExactJsonTests
{
    private const string Mark = "\uFDD0";

    // By hand: a decimal point, a date's joints, a group that a program does not want, and a count's groups.
    [Theory]
    [InlineData("1\uFDD05 W", "1.5 W")]
    [InlineData("2026\uFDD403\uFDD404", "2026-03-04")]
    [InlineData("12\uFDD1345", "12345")]
    [InlineData("12\uFDD2345 and 1\uFDD3234", "12\u00a0345 and 1\u00a0234")]
    [InlineData("\\" + Mark + "\\u\\\\ufdd0", "\\.\\u\\\\ufdd0")]
    [InlineData("\uFDCF \uFDD5 \uFEFF µΩ 漢 😀", "\uFDCF \uFDD5 \uFEFF µΩ 漢 😀")]
    public void Each_mark_is_what_it_stands_for_and_all_else_stays(string text, string expected)
    {
        foreach (byte[] json in new[] { JsonSerializer.SerializeToUtf8Bytes(text), Encoding.UTF8.GetBytes($"\"{Escaped(text)}\"") })
        {
            for (int piece = 1; piece <= json.Length; piece++)
            {
                Assert.Equal(expected, JsonSerializer.Deserialize<string>(Written(json, piece)));
            }
        }
    }

    [Fact]
    public void What_ends_within_an_escape_is_passed_on_as_it_is() =>
        Assert.Equal("\"\\ufd", Encoding.UTF8.GetString(Written("\"\\ufd"u8.ToArray(), 2)));

    private static string Escaped(string text) => text.Replace("\\", "\\\\", StringComparison.Ordinal);

    private static byte[] Written(byte[] json, int piece)
    {
        using var to = new MemoryStream();
        using (var exact = WrittenMarks.ExactJson(to))
        {
            for (int i = 0; i < json.Length; i += piece)
            {
                exact.Write(json.AsSpan(i, Math.Min(piece, json.Length - i)));
            }
        }

        return to.ToArray();
    }
}
