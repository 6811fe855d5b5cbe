using System.Globalization;
using System.Text.RegularExpressions;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Text;

/// <summary>A figure in a sentence.</summary>
/// <param name="Before">A word that belongs to it, such as <c>line</c>, with the space after it; else empty.</param>
/// <param name="Exact">A number with a decimal point, or a day with or without a time of day.</param>
/// <param name="Unit">Its unit with the space before it; else empty.</param>
internal readonly partial record struct SaidFigure(string Before, string Exact, string Unit)
{
    /// <summary>Pattern of a figure. A digit within a name is none; the first figure of a range has the unit of the second.</summary>
    public const string Pattern = @"(?<before>\bline )?(?<figure>(?<![\w.-])"
        + @"(?:\d{4}-\d\d-\d\d(?:[ T]\d\d:\d\d(?::\d\d)?)?|-?\d{1,3}(?:\u00a0\d{3})+|-?\d+(?:\.\d+)?(?:E[+-]?\d+)?))"
        + $@"(?:(?<unit>{Units})|(?= to -?[\d.\u00a0]*\d(?<rangeUnit>{Units})))?";

    private const string Units =
        @" (?:%|ms|s|min|h|days|mW|W|kW|mWh|Wh|kWh|mV|V|mA|A|VA|mAh|Ah|°C|K|Ω|Hz|rows|steps|runs|readings|[A-Z]{3})(?!\w)";

    private const char Group = '\u00a0';

    /// <summary>The pattern by itself.</summary>
    [GeneratedRegex(Pattern)]
    public static partial Regex Alone();

    /// <summary>The figure that the pattern found.</summary>
    /// <param name="found">What was found.</param>
    public static SaidFigure Of(Match found) =>
        new(found.Groups["before"].Value, found.Groups["figure"].Value, found.Groups["unit"].Value + found.Groups["rangeUnit"].Value);

    /// <summary>What other sentences of the same frame say where the first one says something else.</summary>
    /// <param name="first">Figures of the first.</param>
    /// <param name="others">The others.</param>
    /// <returns>Such as <c>1.2 to 1.4 h in place of 0.9 h</c>.</returns>
    public static string InPlace(IReadOnlyList<SaidFigure> first, IReadOnlyList<Said> others)
    {
        var said = first.Select((own, k) => (Own: own, Others: others.Select(o => o.Figures[k]).Distinct().ToList()))
            .Where(f => f.Others.Count > 1 || f.Others[0] != f.Own)
            .Select(f => $"{Range(f.Others)} in place of {f.Own.Shown}").Distinct().ToList();
        return said.Count == 1 ? said[0] : $"{string.Join(", ", said.Take(said.Count - 1))} and {said[^1]}";
    }

    private string Shown => $"{Before}{ShownNumber}{Unit}";

    private string ShownNumber => Exact.Contains(Group, StringComparison.Ordinal) ? WrittenMarks.Count((long)Value!.Value)
        : Value is null ? WrittenMarks.Date(Exact) : WrittenMarks.Number(Exact);

    // Null for a day.
    private double? Value =>
        double.TryParse(Exact.Replace(Group.ToString(), "", StringComparison.Ordinal), CultureInfo.InvariantCulture, out double value)
            ? value : null;

    private static string Range(List<SaidFigure> figures)
    {
        var ordered = figures.OrderBy(f => f.Value).ThenBy(f => f.Exact, StringComparer.Ordinal).ToList();
        var (least, greatest) = (ordered[0], ordered[^1]);
        return ordered.Count == 1 ? least.Shown : $"{least.Before}{least.ShownNumber} to {greatest.ShownNumber}{greatest.Unit}";
    }
}
