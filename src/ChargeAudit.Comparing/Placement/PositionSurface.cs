using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Placement;

/// <summary>A figure between the positions where it was measured, linear from one to the next; nothing outside their hull.
/// Immutable.</summary>
public sealed class PositionSurface
{
    private readonly IReadOnlyList<MeasuredPosition> _positions;
    private readonly Triangulation _triangles;

    private PositionSurface(IReadOnlyList<MeasuredPosition> positions, Triangulation triangles)
    {
        (_positions, _triangles) = (positions, triangles);
    }

    /// <summary>Corners of the hull in order around it. [mm]</summary>
    public IReadOnlyList<(double XMm, double YMm)> Hull => [.. _triangles.Hull.Select(p => (p.X, p.Y))];

    /// <summary>The surface; null where there are fewer than three positions, or all lie on a line.</summary>
    /// <param name="positions">Positions, each once.</param>
    public static PositionSurface? Of(IReadOnlyList<MeasuredPosition> positions) =>
        Triangulation.Of([.. positions.Select(p => (p.XMm, p.YMm))]) is { } triangles ? new PositionSurface(positions, triangles) : null;

    /// <summary>The map's figure at a place; null outside the hull. Its uncertainty is that of the positions around, not of the shape
    /// between them.</summary>
    /// <param name="xMm">Offset along the first direction. [mm]</param>
    /// <param name="yMm">Offset along the second direction. [mm]</param>
    public Measured? At(double xMm, double yMm)
    {
        if (_triangles.At(xMm, yMm) is not { } weights)
        {
            return null;
        }

        // On a measured position it is that position's own figure.
        return weights.Count == 1
            ? _positions[weights[0].Point].Shown
            : Measured.Combine(
                weights.Sum(w => w.Weight * _positions[w.Point].Shown.Value),
                _positions[weights[0].Point].Shown.Unit,
                weights.Select(w => (w.Weight, _positions[w.Point].Shown)));
    }

    /// <summary>The bare value at a place, for drawing; not a number outside the hull.</summary>
    /// <inheritdoc cref="At"/>
    public double ValueAt(double xMm, double yMm) =>
        _triangles.At(xMm, yMm) is { } weights ? weights.Sum(w => w.Weight * _positions[w.Point].Shown.Value) : double.NaN;
}
