namespace ChargeAudit.Comparing.Placement;

/// <summary>Finds the lowest place of a fitted surface, if it is a bowl whose bottom lies among the places that were measured.</summary>
internal static class BowlBottom
{
    private const int MostSteps = 50;

    /// <summary>The bottom; null where there is none, or where it lies outside what was measured.</summary>
    /// <param name="of">The surface: a polynomial of low order.</param>
    /// <param name="places">Places that were measured.</param>
    public static (double X, double Y)? Of(Func<double, double, double> of, IReadOnlyList<(double X, double Y)> places)
    {
        double left = places.Min(p => p.X), right = places.Max(p => p.X), low = places.Min(p => p.Y), high = places.Max(p => p.Y);
        double h = 0.01 * Math.Max(right - left, high - low);
        var start = places.MinBy(p => of(p.X, p.Y));
        var (x, y) = (start.X, start.Y);
        for (int i = 0; i < MostSteps; i++)
        {
            // Newton on central differences, which are all but exact for a polynomial of low order.
            double c = of(x, y);
            double gx = (of(x + h, y) - of(x - h, y)) / (2 * h), gy = (of(x, y + h) - of(x, y - h)) / (2 * h);
            double xx = (of(x + h, y) - (2 * c) + of(x - h, y)) / (h * h), yy = (of(x, y + h) - (2 * c) + of(x, y - h)) / (h * h);
            double xy = (of(x + h, y + h) - of(x + h, y - h) - of(x - h, y + h) + of(x - h, y - h)) / (4 * h * h);
            double stepX, stepY;
            if (right > left && high > low)
            {
                double determinant = (xx * yy) - (xy * xy);
                if (!(xx > 0 && determinant > 0))
                {
                    return null;
                }

                (stepX, stepY) = (((yy * gx) - (xy * gy)) / determinant, ((xx * gy) - (xy * gx)) / determinant);
            }
            else if (right > left)
            {
                if (!(xx > 0))
                {
                    return null;
                }

                (stepX, stepY) = (gx / xx, 0);
            }
            else
            {
                if (!(yy > 0))
                {
                    return null;
                }

                (stepX, stepY) = (0, gy / yy);
            }

            x = Math.Clamp(x - stepX, left - h, right + h);
            y = Math.Clamp(y - stepY, low - h, high + h);
            if (Math.Abs(stepX) + Math.Abs(stepY) < 1e-9 * h)
            {
                break;
            }
        }

        bool along = right > left && high > low;
        bool inside = along ? Triangulation.Of([.. places])?.At(x, y) is not null : x >= left && x <= right && y >= low && y <= high;
        return inside ? (x, y) : null;
    }
}
