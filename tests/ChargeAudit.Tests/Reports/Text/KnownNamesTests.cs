using System.Text.RegularExpressions;
using ChargeAudit.Reports.Text;
using CsCheck;

namespace ChargeAudit.Tests.Reports.Text;

/// <summary>Names and figures in a sentence are those that one pattern of all names, the longest first, would find.</summary>
public sealed class KnownNamesTests
{
    private static readonly string[] Names =
        ["pad", "pad-1", "pad-12", "pad 5 W", "log-1.csv", "log-1.csv + log-2.csv", "5", "7.5", "2 W pad", "é", ".x", "1.2-b", "line"];

    private static readonly Regex All = new($@"(?<name>(?<![\w.-])(?:{string.Join('|', Names.OrderByDescending(n => n.Length)
        .Select(Regex.Escape))})(?![\w-]))|{SaidFigure.Pattern}", RegexOptions.CultureInvariant);

    private static readonly string[] Pieces =
        [.. Names, " ", " ", " ", ",", ".", "-", "_", "1", "12 W", "line 7", "3.5 to 4 h", "2026-03-02", "W", "\u0301", "+", "padded"];

    [Fact]
    public void They_are_those_of_the_pattern()
    {
        var known = new KnownNames();
        foreach (string name in Names)
        {
            known.Add(name);
        }

        Gen.Int[0, Pieces.Length - 1].Select(i => Pieces[i]).Array[0, 9].Select(string.Concat).Sample(sentence =>
            Assert.Equal(
                All.Replace(sentence, m => m.Groups["name"].Success ? $"<{m.Value}>" : $"[{m.Value}]"),
                known.Replaced(sentence, name => $"<{name}>", figure => $"[{figure.Value}]")), iter: 20_000, seed: "0000000000001");
    }

    [Fact]
    public void A_name_stands_for_what_was_set_last_and_keeps_it_where_one_is_added()
    {
        var known = new KnownNames();
        known.Set("on the pad", "first");
        known.Set("on the pad", "pad");
        known.Add("on the pad");
        known.Add("");
        Assert.Equal("charged <pad>.", known.Replaced("charged on the pad.", name => $"<{name}>", figure => figure.Value));
    }
}
