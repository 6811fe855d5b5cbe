using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What the cells of tables hold.</summary>
internal static class Cells
{
    /// <summary>A figure, what it rests on besides measurements, or why it is missing.</summary>
    public static string Of(Figure figure) =>
        FigureText.Of(figure) + (figure.Assumed is { } assumed && figure.Value is not null ? $"; rests on {assumed}" : "");

    /// <summary>A pure number in per cent, or why it is missing.</summary>
    public static string Percent(Figure figure) =>
        Of(figure.Value is { } value ? figure with { Value = FigureText.Percent(value) } : figure);

    /// <summary>A figure that is always there.</summary>
    public static string Of(Measured figure) => FigureText.Of(figure);

    /// <summary>A picture, where it was drawn.</summary>
    public static IEnumerable<Block> Picture(IReadOnlySet<string> keys, string key) => keys.Contains(key) ? [new Picture(key)] : [];
}
