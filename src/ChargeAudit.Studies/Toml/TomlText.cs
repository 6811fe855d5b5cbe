using System.Globalization;
using System.Text;

namespace ChargeAudit.Studies.Toml;

/// <summary>Words as TOML holds them. <i>Source:</i> TOML 1.0.0, Keys and String.</summary>
internal static class TomlText
{
    /// <summary>A name as a key: one that is not a bare key stands in quotes.</summary>
    public static string Key(string name) =>
        name.Length > 0 && name.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_') ? name : Quoted(name);

    /// <summary>A basic string: quotation marks, backslashes and control characters are escaped.</summary>
    public static string Quoted(string text)
    {
        var quoted = new StringBuilder("\"");
        foreach (char c in text)
        {
            _ = c switch
            {
                '"' => quoted.Append("\\\""),
                '\\' => quoted.Append("\\\\"),
                _ when char.IsControl(c) => quoted.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:X4}"),
                _ => quoted.Append(c),
            };
        }

        return quoted.Append('"').ToString();
    }
}
