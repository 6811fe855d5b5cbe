using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Metrology.Diagnostics;

public sealed class VisibleTextTests
{
    [Theory]
    [InlineData("cable-1.csv", "cable-1.csv")]
    [InlineData("größe µW 充電 🔌", "größe µW 充電 🔌")]
    [InlineData("a\u001B[31mb", "a<U+001B>[31mb")]
    [InlineData("\u0007\u0000\u007F", "<U+0007><U+0000><U+007F>")]
    [InlineData("\u009B2J", "<U+009B>2J")]
    [InlineData("one\ntwo\r\tthree", "one<U+000A>two<U+000D><U+0009>three")]
    [InlineData("gnp\u202Egpj.csv", "gnp<U+202E>gpj.csv")]
    public void What_a_terminal_would_obey_is_written_out_by_name(string text, string shown) => Assert.Equal(shown, VisibleText.Of(text));

    [Fact]
    public void Half_a_character_is_written_out_and_a_whole_one_stays() => Assert.Equal("<U+D83D>x 🔌", VisibleText.Of("\uD83Dx 🔌"));

    [Fact]
    public void Lines_stay_where_they_may() => Assert.Equal("a\n\tb<U+0007>", VisibleText.Of("a\n\tb\a", lines: true));

    [Fact]
    public void Every_sentence_of_a_refusal_is_safe() =>
        Assert.Equal("x<U+001B>y is missing", new InputException(InputProblem.Missing, "x\u001By is missing").Message);
}
