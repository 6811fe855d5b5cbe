using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Text;

/// <summary>How figures are marked that rest on more than measurements. A reader must never take one for a measured figure.</summary>
public static class DerivedText
{
    /// <summary>What follows the name of a place: <c> (derived)</c> for a figure that was not measured there; empty for one that
    /// was.</summary>
    public static string Mark(Figure figure) => figure is { Value: not null, Assumed: not null } ? " (derived)" : "";

    /// <summary>The mark of such a figure in a chart, where there is room for no more.</summary>
    public static string Star(Figure figure) => figure is { Value: not null, Assumed: not null } ? "*" : "";

    /// <summary>What the mark means, to be put below a chart; empty where no figure bears it.</summary>
    public static string StarNote(IEnumerable<Figure> figures) => figures.Any(f => Star(f).Length > 0)
        ? " * This figure rests on more than measurements; the table says on what."
        : "";

    /// <summary>How a figure was obtained at a place: <c>at the wall</c>, or what it rests on.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="at">The place, as in <see cref="Words.At"/>.</param>
    public static string How(Figure figure, string at) => figure.Assumed is { } assumed
        ? $"{at}, not measured there but derived: it rests on {assumed}"
        : at;

    /// <summary>What a figure rests on, to be put after it in a sentence; empty where it rests on measurements alone.</summary>
    public static string Behind(Figure figure) => figure is { Value: not null, Assumed: { } assumed } ? $"; it rests on {assumed}" : "";
}
