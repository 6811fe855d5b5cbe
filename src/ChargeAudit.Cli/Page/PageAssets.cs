using System.Text;
using System.Text.Encodings.Web;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Page;

/// <summary>The page itself, from the files inside the program.</summary>
public static class PageAssets
{
    /// <summary>The page as UTF-8.</summary>
    /// <param name="nonce">Random word that its style and its script carry.</param>
    public static byte[] Page(string nonce) => Encoding.UTF8.GetBytes(Text("page.html")
        .Replace("{{style}}", Text("page.css"), StringComparison.Ordinal)
        .Replace("{{script}}", Text("page.js"), StringComparison.Ordinal)
        .Replace("{{cautions}}", string.Join('\n', Cautions.All.Select(c => $"<li>{HtmlEncoder.Default.Encode(c)}</li>")),
            StringComparison.Ordinal)
        .Replace("{{locales}}", string.Join('\n', Locales()), StringComparison.Ordinal)
        .Replace("{{nonce}}", nonce, StringComparison.Ordinal));

    // One choice for each look; the first is how the program was told to write, or writes by itself.
    private static IEnumerable<string> Locales()
    {
        yield return Choice("", "", WrittenForm.Current);
        foreach (var look in WrittenForm.All.GroupBy(Look))
        {
            yield return Choice(look.First().Tag, $" ({string.Join(", ", look.Select(f => f.Tag))})", look.First());
        }
    }

    private static string Choice(string tag, string tags, WrittenForm? form) =>
        $"<option value=\"{tag}\" data-mark=\"{form?.DecimalMark ?? "."}\">{HtmlEncoder.Default.Encode(Look(form) + tags)}</option>";

    private static string Look(WrittenForm? form)
    {
        using var written = form?.Use();
        return WrittenMarks.Shown($"{WrittenMarks.Number("12345.6")} · {WrittenMarks.Date("2026-12-31")}");
    }

    private static string Text(string name) => BuiltIn.Text(typeof(PageAssets).Assembly, $"Page.{name}");
}
