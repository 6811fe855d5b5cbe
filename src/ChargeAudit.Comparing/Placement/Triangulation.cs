using NetTopologySuite.Geometries;
using NetTopologySuite.Triangulate;

namespace ChargeAudit.Comparing.Placement;

/// <summary>
/// Triangles between points of a plane such that no point lies inside the circle of another triangle (Delaunay), and linear interpolation
/// in them. Outside the convex hull of the points there is no value. Immutable.
/// </summary>
internal sealed class Triangulation
{
    /// <summary>Points whose hull is flatter than this share of its length squared count as lying on a line. [1]</summary>
    private const double Flat = 1e-3;

    /// <summary>How far outside a triangle, as a share of its size, a point may come to lie by rounding. [1]</summary>
    private const double Rounding = 1e-9;

    private readonly (double X, double Y)[] _points;
    private readonly (int A, int B, int C)[] _triangles;

    private Triangulation((double X, double Y)[] points, (int A, int B, int C)[] triangles, IReadOnlyList<(double X, double Y)> hull,
        double area)
    {
        (_points, _triangles) = (points, triangles);
        Hull = hull;
        HullArea = area;
    }

    /// <summary>Corners of the convex hull in order around it; the first one is not repeated.</summary>
    public IReadOnlyList<(double X, double Y)> Hull { get; }

    /// <summary>Area of the convex hull, in the square of the points' unit.</summary>
    public double HullArea { get; }

    /// <summary>Positions of the corners of each triangle among the points.</summary>
    public IReadOnlyList<(int A, int B, int C)> Triangles => _triangles;

    /// <summary>Triangulates points; null where fewer than three differ, or all lie on a line.</summary>
    /// <param name="points">Points, each once.</param>
    /// <exception cref="ArgumentException">A point is there twice.</exception>
    public static Triangulation? Of(IReadOnlyList<(double X, double Y)> points)
    {
        var positions = new Dictionary<(double X, double Y), int>();
        for (int i = 0; i < points.Count; i++)
        {
            if (!positions.TryAdd(points[i], i))
            {
                throw new ArgumentException("each point may be there once only; average what was measured twice", nameof(points));
            }
        }

        if (points.Count < 3)
        {
            return null;
        }

        var sites = points.Select(p => new Coordinate(p.X, p.Y)).ToArray();
        var factory = new GeometryFactory();
        var hull = factory.CreateMultiPointFromCoords(sites).ConvexHull();
        double length = new Coordinate(sites.Min(s => s.X), sites.Min(s => s.Y))
            .Distance(new Coordinate(sites.Max(s => s.X), sites.Max(s => s.Y)));
        if (!(hull.Area > Flat * length * length))
        {
            return null;
        }

        var builder = new DelaunayTriangulationBuilder();
        builder.SetSites(sites);
        int At(Coordinate c) => positions[(c.X, c.Y)];
        var triangles = builder.GetTriangles(factory).Geometries.Select(t => t.Coordinates).Select(c => (At(c[0]), At(c[1]), At(c[2])))
            .Order().ToArray();
        return new Triangulation([.. points], triangles, [.. hull.Coordinates.Skip(1).Select(c => (c.X, c.Y))], hull.Area);
    }

    /// <summary>The points that a place is interpolated from, each with its weight; the weights add up to one.</summary>
    /// <param name="x">First coordinate of the place.</param>
    /// <param name="y">Second coordinate.</param>
    /// <returns>Up to three points with weights; null outside the hull.</returns>
    public IReadOnlyList<(int Point, double Weight)>? At(double x, double y)
    {
        foreach (var (ia, ib, ic) in _triangles)
        {
            var (a, b, c) = (_points[ia], _points[ib], _points[ic]);
            double twice = ((b.X - a.X) * (c.Y - a.Y)) - ((c.X - a.X) * (b.Y - a.Y));
            double wb = (((x - a.X) * (c.Y - a.Y)) - ((c.X - a.X) * (y - a.Y))) / twice;
            double wc = (((b.X - a.X) * (y - a.Y)) - ((x - a.X) * (b.Y - a.Y))) / twice;
            double wa = 1 - wb - wc;
            if (wa >= -Rounding && wb >= -Rounding && wc >= -Rounding)
            {
                return [.. new[] { (ia, wa), (ib, wb), (ic, wc) }.Where(w => Math.Abs(w.Item2) > Rounding)];
            }
        }

        return null;
    }
}
