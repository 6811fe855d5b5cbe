using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Text;

/// <summary>An overhead ratio as people say it: by how many per cent more, or less.</summary>
internal static class OverheadText
{
    /// <summary>The difference itself: <c>50.6 % more</c>, <c>3.2 % less</c>.</summary>
    /// <param name="ratio">Energy divided by that of the reference. [1]</param>
    public static string Difference(Measured ratio) => ratio.Value < 1
        ? $"{FigureText.Value(FigureText.Saving(ratio))} less"
        : $"{FigureText.Value(FigureText.Overhead(ratio))} more";

    /// <summary>Its 95 % interval in the same direction, or why there is none.</summary>
    /// <param name="ratio">Energy divided by that of the reference. [1]</param>
    public static string Certainty(Measured ratio)
    {
        var (more, less) = (FigureText.Overhead(ratio), FigureText.Saving(ratio));
        if (FigureText.Interval(more) is not { } interval || ratio.Interval() is not { } ends)
        {
            return $"uncertainty not known: {ratio.UnknownBecause ?? "no source of error was stated"}";
        }

        return ends switch
        {
            { Low: <= 1, High: >= 1 } => $"95 % interval {WithUnit(interval)} more; it includes 0, so no difference is shown",
            { High: < 1 } when ratio.Value < 1 => $"95 % interval {WithUnit(FigureText.Interval(less)!)}",
            _ => $"95 % interval {WithUnit(interval)}",
        };
    }

    // An interval with one end: "49.2 % or more".
    private static string WithUnit(string interval) => interval.IndexOf(" or ", StringComparison.Ordinal) is > 0 and var at
        ? interval.Insert(at, " %")
        : interval + " %";
}
