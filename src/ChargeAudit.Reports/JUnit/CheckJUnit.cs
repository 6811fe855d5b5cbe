using System.Globalization;
using System.Text;
using System.Xml;
using ChargeAudit.Checking;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Reports.JUnit;

/// <summary>
/// The verdict of a check as JUnit XML, which build servers show: one test case a figure and one for the whole. A figure beyond its margin
/// is a failure; one that could not be decided is an error, since a build must not turn green on it.
/// </summary>
public static class CheckJUnit
{
    /// <summary>The document; lines end with a line feed.</summary>
    /// <param name="result">The check.</param>
    public static string Of(CheckResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var cases = result.Figures.Select(f => new Case(f.Verdict, Group(f), CheckReasons.Name(f), MessageOf(f), TextOf(f)))
            .Concat(result.Drifts.Select(d => new Case(
                d.BeyondMargin ? CheckVerdict.Fail : CheckVerdict.Pass,
                $"{d.Method}.{StableName.Of(d.Point)}",
                $"{CheckReasons.Name(d.Method, d.Point, d.Figure)}: no drift",
                DriftTest.Sentence(d),
                DriftTest.Sentence(d))))
            .Append(new Case(result.Verdict, "overall", "the whole", string.Join(" ", result.Reasons), string.Join("\n", result.Reasons)))
            .ToList();
        var text = new StringBuilder();
        var settings = new XmlWriterSettings { Indent = true, NewLineChars = "\n", OmitXmlDeclaration = true };
        using (var xml = XmlWriter.Create(text, settings))
        {
            xml.WriteStartElement("testsuites");
            xml.WriteStartElement("testsuite");
            xml.WriteAttributeString("name", Clean($"regression check of {result.Candidate}"));
            xml.WriteAttributeString("tests", Count(cases.Count));
            xml.WriteAttributeString("failures", Count(cases.Count(c => c.Verdict == CheckVerdict.Fail)));
            xml.WriteAttributeString("errors", Count(cases.Count(c => c.Verdict == CheckVerdict.Inconclusive)));
            xml.WriteAttributeString("skipped", "0");
            foreach (var c in cases)
            {
                xml.WriteStartElement("testcase");
                xml.WriteAttributeString("classname", Clean($"chargeaudit.{c.Group}"));
                xml.WriteAttributeString("name", Clean(c.Name));
                if (c.Verdict != CheckVerdict.Pass)
                {
                    xml.WriteStartElement(c.Verdict == CheckVerdict.Fail ? "failure" : "error");
                    xml.WriteAttributeString("type", c.Verdict == CheckVerdict.Fail ? "beyond-margin" : "inconclusive");
                    xml.WriteAttributeString("message", Clean(c.Message));
                    xml.WriteString(Clean(c.Text));
                    xml.WriteEndElement();
                }

                xml.WriteEndElement();
            }

            xml.WriteEndElement();
            xml.WriteEndElement();
        }

        return "<?xml version=\"1.0\" encoding=\"utf-8\"?>\n" + text + "\n";
    }

    private static string Group(FigureCheck f) => $"{f.Method}.{StableName.Of(f.Point)}";

    private static string MessageOf(FigureCheck f) => f.Test is { } test
        ? InvariantText.Of(
            $"{(f.Ratio is { } r ? CheckReasons.Change(r.Value) : "the baseline shows nothing")}, margin {CheckReasons.Percent(f.Margin)}")
        : f.Note ?? "";

    private static string TextOf(FigureCheck f) => f.Test is { } test
        ? $"{CheckReasons.Bounds(test)}. {f.Settling?.Sentence} {f.Note}".TrimEnd()
        : f.Note ?? "";

    private static string Count(int n) => n.ToString(CultureInfo.InvariantCulture);

    // XML has no place for control characters; a name from a study may hold some.
    private static string Clean(string text) =>
        new([.. VisibleText.Of(WrittenMarks.Exact(text)).Select(c => XmlConvert.IsXmlChar(c) || char.IsSurrogate(c) ? c : '\u00a0')]);

    private sealed record Case(CheckVerdict Verdict, string Group, string Name, string Message, string Text);
}
