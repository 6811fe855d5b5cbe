namespace ChargeAudit.Reports.Charts;

/// <summary>A finished chart.</summary>
/// <param name="Key">Short name, fit for a file name and an element id.</param>
/// <param name="Title">Its title.</param>
/// <param name="Alternative">What it shows, in words that replace it.</param>
/// <param name="WideSvg">SVG element for wide screens and paper.</param>
/// <param name="NarrowSvg">SVG element for narrow screens.</param>
/// <param name="FileSvg">The wide form with its title, to stand alone.</param>
/// <param name="Png">The same as a picture.</param>
/// <param name="Note">A remark for whoever looks at it; null where there is none.</param>
/// <param name="Data">Its curves as JSON, to zoom and to read values; null where it has none.</param>
public sealed record Chart(
    string Key,
    string Title,
    string Alternative,
    string WideSvg,
    string NarrowSvg,
    string FileSvg,
    ReadOnlyMemory<byte> Png,
    string? Note = null,
    string? Data = null)
{
    /// <summary>Whether its colours are values with figures on them, so that it stays on a light card in the dark, too.</summary>
    public bool StaysLight { get; init; }
}
