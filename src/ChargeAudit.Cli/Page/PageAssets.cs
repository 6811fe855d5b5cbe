using System.Text;
using System.Text.Encodings.Web;
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
        .Replace("{{nonce}}", nonce, StringComparison.Ordinal));

    private static string Text(string name)
    {
        using var stream = typeof(PageAssets).Assembly.GetManifestResourceStream($"Page.{name}")!;
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
