using ChargeAudit.Comparing.Placement;
using CsCheck;

namespace ChargeAudit.Tests.Comparing.Placement;

public sealed class TriangulationTests
{
    private static readonly Gen<(double X, double Y)[]> Points =
        Gen.Select(Gen.Int[-12, 12], Gen.Int[-12, 12]).Select(p => (p.Item1 * 0.5, p.Item2 * 0.5)).Array[3, 24]
            .Select(a => a.Distinct().ToArray());

    [Fact]
    public void A_plane_is_met_exactly_everywhere_inside_the_hull() =>
        Gen.Select(Points, Gen.Double[0, 1], Gen.Double[0, 1], Gen.Int[0, 1000]).Sample(
        (points, u, v, pick) =>
        {
            if (Triangulation.Of(points) is not { } triangles)
            {
                return;
            }

            // A place between three hull corners is inside.
            var hull = triangles.Hull;
            var (a, b, c) = (hull[pick % hull.Count], hull[(pick / 7) % hull.Count], hull[(pick / 49) % hull.Count]);
            double w = u * (1 - v);
            double x = a.X + (u * v * (b.X - a.X)) + (w * (c.X - a.X)), y = a.Y + (u * v * (b.Y - a.Y)) + (w * (c.Y - a.Y));
            static double Plane(double px, double py) => 3 + (0.7 * px) - (1.3 * py);
            var weights = triangles.At(x, y);
            Assert.NotNull(weights);
            Assert.Equal(1, weights.Sum(p => p.Weight), 1e-8);
            Assert.Equal(Plane(x, y), weights.Sum(p => p.Weight * Plane(points[p.Point].X, points[p.Point].Y)), 1e-6);
        },
        iter: 2000, seed: "0000KJeHwJQ0");

    [Fact]
    public void The_triangles_fill_the_hull_and_no_point_lies_inside_the_circle_of_another_triangle() => Points.Sample(
        points =>
        {
            if (Triangulation.Of(points) is not { } triangles)
            {
                return;
            }

            double area = 0;
            foreach (var (ia, ib, ic) in triangles.Triangles)
            {
                var (a, b, c) = (points[ia], points[ib], points[ic]);
                double twice = Cross(a, b, c);
                area += 0.5 * Math.Abs(twice);
                foreach (var p in points)
                {
                    Assert.True(InCircle(a, b, c, p) * Math.Sign(twice) <= 1e-6);
                }
            }

            Assert.Equal(triangles.HullArea, area, 1e-8);
        },
        iter: 1000, seed: "0000KJeHwJQ0");

    [Fact]
    public void On_a_measured_point_it_is_that_point_alone()
    {
        (double X, double Y)[] cross = [(0, 0), (4, 0), (-4, 0), (0, 4), (0, -4)];
        var triangles = Triangulation.Of(cross)!;
        Assert.Equal(32, triangles.HullArea, 12);
        for (int i = 0; i < cross.Length; i++)
        {
            var only = Assert.Single(triangles.At(cross[i].X, cross[i].Y)!);
            Assert.Equal((i, 1.0), (only.Point, only.Weight));
        }
    }

    [Theory]
    [InlineData(4.1, 0)]
    [InlineData(2.1, 2.1)]
    [InlineData(-3, -3)]
    public void Outside_the_hull_nothing_is_told(double x, double y) =>
        Assert.Null(Triangulation.Of([(0, 0), (4, 0), (-4, 0), (0, 4), (0, -4)])!.At(x, y));

    [Fact]
    public void Too_few_points_or_points_on_a_line_give_no_triangles()
    {
        Assert.Null(Triangulation.Of([]));
        Assert.Null(Triangulation.Of([(0, 0), (1, 0)]));
        Assert.Null(Triangulation.Of([(0, 0), (1, 1), (2, 2), (-3, -3)]));
        Assert.Null(Triangulation.Of([(0, 0), (4, 0), (8, 0.001)]));
        Assert.Null(Triangulation.Of([(0.1, 0.3), (0.2, 0.6), (0.3, 0.9)]));
    }

    [Fact]
    public void A_point_that_is_there_twice_is_refused() =>
        Assert.Throws<ArgumentException>(() => Triangulation.Of([(0, 0), (1, 0), (0, 1), (1, 0)]));

    private static double Cross((double X, double Y) a, (double X, double Y) b, (double X, double Y) c) =>
        ((b.X - a.X) * (c.Y - a.Y)) - ((c.X - a.X) * (b.Y - a.Y));

    private static double InCircle((double X, double Y) a, (double X, double Y) b, (double X, double Y) c, (double X, double Y) p)
    {
        double ax = a.X - p.X, ay = a.Y - p.Y, bx = b.X - p.X, by = b.Y - p.Y, cx = c.X - p.X, cy = c.Y - p.Y;
        double aa = (ax * ax) + (ay * ay), bb = (bx * bx) + (by * by), cc = (cx * cx) + (cy * cy);
        return (ax * ((by * cc) - (bb * cy))) - (ay * ((bx * cc) - (bb * cx))) + (aa * ((bx * cy) - (by * cx)));
    }
}
