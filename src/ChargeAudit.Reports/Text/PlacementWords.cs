using ChargeAudit.Comparing.Placement;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Text;

/// <summary>Placement in words.</summary>
public static class PlacementWords
{
    /// <summary>What a map shows: <c>efficiency, adapter's output to device</c>.</summary>
    /// <param name="figure">The figure.</param>
    public static string Of(PlacementFigure figure) => figure.To is { } to
        ? $"efficiency, {Words.Place(figure.From)} to {Words.Place(to)}"
        : $"energy per charge {Words.At(figure.From)}";

    /// <summary>Label of an axis: <c>efficiency [%]</c>.</summary>
    /// <param name="figure">The figure.</param>
    public static string Axis(PlacementFigure figure) => figure.To is null ? "energy per charge [Wh]" : "efficiency [%]";

    /// <summary>A value of the figure in the unit that people read: efficiencies in per cent.</summary>
    /// <param name="shown">The value.</param>
    public static Measured ForPeople(Measured shown) => shown.Unit == "1" ? FigureText.Percent(shown) : shown;

    /// <summary>What was found, as sentences for a summary: what is shown, the range, the tolerances.</summary>
    /// <param name="placement">The finding.</param>
    public static IReadOnlyList<string> Summary(PlacementResult placement)
    {
        ArgumentNullException.ThrowIfNull(placement);
        var sentences = new List<string>();
        foreach (var m in placement.Methods)
        {
            if (m.Positions.Count > 1)
            {
                var ordered = m.Positions.OrderBy(p => p.Taken.Value).ToList();
                string Told(MeasuredPosition p) => $"{FigureText.Of(ForPeople(p.Shown))} at {FactorWords.Position(p.XMm, p.YMm)}";
                sentences.Add(
                    $"{m.Method}: {Of(m.Figure)}, is best with {Told(ordered[0])} and worst with {Told(ordered[^1])}, over "
                    + $"{m.Positions.Count} positions.");
            }

            if (m.Tolerance is { } tolerance)
            {
                sentences.Add(tolerance.Sentence(m.Method));
            }
        }

        return sentences;
    }

}
