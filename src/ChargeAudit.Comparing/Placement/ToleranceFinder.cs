using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Placement;

/// <summary>
/// Finds the offset at which the fitted energy has risen by a share. At each offset r the excess D(r) = mean energy on the circle of radius
/// r about the best position, less (1 + rise) times that at the best position, is a sum of the model's coefficients, so its standard error
/// is exact; the interval holds every r at which D could be zero, as in Fieller's set. A gain error that all runs share multiplies D and
/// does not move its zero. <i>Source:</i> E. C. Fieller, J. Royal Statistical Society B 16 (1954) 175–185 (the set); JCGM 100:2008, H.3
/// (the variance of a fitted value).
/// </summary>
internal static class ToleranceFinder
{
    private const double Coverage = 0.95;
    private const int Steps = 200;
    private const int Directions = 24;
    private const int CurvePlaces = 40;

    /// <summary>The tolerance; null where no offset was varied.</summary>
    public static PositionTolerance? Of(double rise, IReadOnlyList<PlacedRun> runs, FittedModel? model)
    {
        bool alongX = ModelTerms.Varies(runs, Factor.OffsetX), alongY = ModelTerms.Varies(runs, Factor.OffsetY);
        if (!alongX && !alongY)
        {
            return null;
        }

        PositionTolerance Unknown(string why) => new(rise, null, null, false, null, null, null, 0, why);
        if (model is null)
        {
            return Unknown("there are too few runs for a model.");
        }

        var tied = Confounding.AsOneWithOffsets(runs);
        if (tied.Count > 0 || !model.Columns.Any(c => FactorWords.IsOffset(c.Factor)))
        {
            return Unknown(
                $"the offset changed together with "
                + $"{(tied.Count > 0 ? PlainWords.Listed([.. tied.Select(FactorWords.Of)]) : "another factor")}, "
                + "so their effects cannot be told apart.");
        }

        double X(RunFactors f) => alongX ? f.Of(Factor.OffsetX)!.Value : 0;
        double Y(RunFactors f) => alongY ? f.Of(Factor.OffsetY)!.Value : 0;
        var places = runs.GroupBy(r => (X: X(r.Factors), Y: Y(r.Factors))).Select(g => (g.Key.X, g.Key.Y)).ToList();
        var bottom = BowlBottom.Of((x, y) => model.Fit.Value(model.RowAt(x, y, runs)), places);
        var best = bottom ?? places.MinBy(p => model.Fit.Value(model.RowAt(p.X, p.Y, runs)));
        double reach = places.Max(p => Distance(p, best));
        var ways = bottom is null
            ? [.. places.Where(p => Distance(p, best) > 0).Select(p => Unit(best, p)).Distinct()]
            : Around(alongX, alongY);

        double[] atBest = model.RowAt(best.X, best.Y, runs);
        double[] Excess(double r, double share)
        {
            var rows = ways.Select(w => model.RowAt(best.X + (r * w.X), best.Y + (r * w.Y), runs)).ToList();
            return [.. atBest.Select((b, j) => rows.Average(row => row[j]) - ((1 + share) * b))];
        }

        double dof = model.Fit.Fit.DegreesOfFreedom;
        double t = dof > 0 ? StudentDistribution.TwoSidedFactor(Coverage, dof) : double.NaN;
        double Value(double r, double side)
        {
            double[] contrast = Excess(r, rise);
            return model.Fit.Value(contrast) + (side == 0 ? 0 : side * t * Math.Sqrt(model.Fit.OwnVariance(contrast)));
        }

        double? offset = Crossing(r => Value(r, 0), reach);
        double? low = double.IsNaN(t) ? null : Crossing(r => Value(r, 1), reach) ?? reach;
        double? high = double.IsNaN(t) ? null : Crossing(r => Value(r, -1), reach);
        double taken = model.Fit.Value(atBest);
        RiseAtOffset At(double r)
        {
            double found = model.Fit.Value(Excess(r, 0)) / taken;
            double u = t * Math.Sqrt(model.Fit.OwnVariance(Excess(r, found))) / taken;
            return new RiseAtOffset(r, found, found - u, found + u);
        }

        return new PositionTolerance(
            rise, alongX ? best.X : null, alongY ? best.Y : null, bottom is not null, offset, low, high, reach, null)
        {
            Curve = [.. Enumerable.Range(0, CurvePlaces + 1).Select(i => At(reach * i / CurvePlaces))],
        };
    }

    // The first place at which a function goes from below zero to above it.
    private static double? Crossing(Func<double, double> of, double reach)
    {
        double before = 0;
        for (int i = 0; i <= Steps; i++)
        {
            double r = reach * i / Steps;
            if (of(r) >= 0)
            {
                return i == 0 ? 0 : Bisected(of, before, r);
            }

            before = r;
        }

        return null;
    }

    private static double Bisected(Func<double, double> of, double low, double high)
    {
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = of(middle) >= 0 ? (low, middle) : (middle, high);
        }

        return 0.5 * (low + high);
    }

    private static List<(double X, double Y)> Around(bool alongX, bool alongY) => (alongX, alongY) switch
    {
        (true, true) =>
            [.. Enumerable.Range(0, Directions)
            .Select(i => (Math.Cos(2 * Math.PI * i / Directions), Math.Sin(2 * Math.PI * i / Directions)))],
        (true, false) => [(1, 0), (-1, 0)],
        _ => [(0, 1), (0, -1)],
    };

    private static double Distance((double X, double Y) a, (double X, double Y) b) =>
        Math.Sqrt(((a.X - b.X) * (a.X - b.X)) + ((a.Y - b.Y) * (a.Y - b.Y)));

    private static (double X, double Y) Unit((double X, double Y) from, (double X, double Y) to)
    {
        double d = Distance(from, to);
        return ((to.X - from.X) / d, (to.Y - from.Y) / d);
    }
}
