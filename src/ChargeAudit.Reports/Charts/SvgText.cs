using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Charts;

/// <summary>Makes the drawing library's SVG fit to be placed inside a page, and the same from run to run.</summary>
internal static partial class SvgText
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    /// <summary>
    /// An <c>svg</c> element without XML declaration, with a view box instead of a fixed size, ids that are unique in the page (the library
    /// counts them through a whole process), our font family and coordinates of a hundredth of a pixel.
    /// </summary>
    public static string Clean(string xml, string idPrefix)
    {
        var root = XDocument.Parse(xml).Root ?? throw new InvalidOperationException("the drawing library gave an empty drawing");
        string width = root.Attribute("width")?.Value ?? "860";
        string height = root.Attribute("height")?.Value ?? "400";
        root.SetAttributeValue("viewBox", $"0 0 {width} {height}");
        root.SetAttributeValue("width", null);
        root.SetAttributeValue("height", null);
        root.SetAttributeValue("aria-hidden", "true");
        root.SetAttributeValue("focusable", "false");

        var names = new Dictionary<string, string>();
        foreach (var id in root.DescendantsAndSelf().Attributes("id"))
        {
            names[id.Value] = InvariantText.Of($"{idPrefix}-{names.Count}");
            id.Value = names[id.Value];
        }

        foreach (var text in root.DescendantNodes().OfType<XText>())
        {
            // The library indents inside text elements.
            text.Value = WrittenMarks.Shown(text.Value.Trim('\n', '\t'));
        }

        foreach (var attribute in root.DescendantsAndSelf().Attributes())
        {
            string name = attribute.Name.LocalName;
            if (name == "font-family")
            {
                attribute.Value = ChartFont.Family + ", sans-serif";
            }
            else if (attribute.Value.Contains('#', StringComparison.Ordinal))
            {
                attribute.Value = Reference()
                    .Replace(attribute.Value, m => names.TryGetValue(m.Groups[1].Value, out string? known) ? "#" + known : m.Value);
            }
            else if (name is "d" or "x" or "y" or "points" or "x1" or "x2" or "y1" or "y2" or "cx" or "cy" or "r" or "transform")
            {
                attribute.Value = LongNumber().Replace(attribute.Value, m => Round(m.Value));
            }
        }

        return root.ToString(SaveOptions.DisableFormatting);
    }

    /// <summary>A chart as a file of its own: with its words for those who cannot see it, and the font inside.</summary>
    public static string File(Chart chart, string fontFace)
    {
        var root = XElement.Parse(chart.FileSvg);
        root.SetAttributeValue("aria-hidden", null);
        root.SetAttributeValue("role", "img");
        root.AddFirst(new XElement(Svg + "title", WrittenMarks.Shown(chart.Title)),
            new XElement(Svg + "desc", WrittenMarks.Shown(chart.Alternative)),
            new XElement(Svg + "style", fontFace));
        return new XDocument(new XDeclaration("1.0", "utf-8", null), root).Declaration + "\n" + root.ToString(SaveOptions.DisableFormatting)
            + "\n";
    }

    private static string Round(string number) =>
        double.Parse(number, CultureInfo.InvariantCulture).ToString("0.##", CultureInfo.InvariantCulture);

    [GeneratedRegex("#([A-Za-z][A-Za-z0-9_-]*)")]
    private static partial Regex Reference();

    [GeneratedRegex(@"-?\d+\.\d{3,}(e-?\d+)?")]
    private static partial Regex LongNumber();
}
