using System.Globalization;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Calibration;

/// <summary>
/// A correction in straight lines from point to point; beyond the outermost points the last lines are extended. Between two points the true
/// curve may bend away from the line, by a quarter of how far a point lies from the line between its neighbours, as a parabola would.
/// </summary>
internal static class PiecewiseCorrection
{
    public static CorrectionCurve Of(IReadOnlyList<CalibrationPoint> points, PointErrors errors)
    {
        // Points at one reading count as their mean.
        var nodes = points.GroupBy(p => p.Reading).OrderBy(g => g.Key).Select(g => new CalibrationPoint(
            g.Average(p => p.Reference), g.Key, Math.Sqrt(g.Sum(p => p.StandardUncertainty * p.StandardUncertainty)) / g.Count())).ToList();
        double[] xs = [.. nodes.Select(n => n.Reading)];
        double[] corrections = [.. nodes.Select(n => n.Correction)], us = [.. nodes.Select(n => n.StandardUncertainty)];
        var found = new List<CorrectionError>();
        if (errors != PointErrors.Common)
        {
            for (int i = 0; i < xs.Length; i++)
            {
                double[] one = new double[xs.Length];
                one[i] = 1;
                found.Add(new("point-" + (i + 1).ToString(CultureInfo.InvariantCulture), us[i], double.PositiveInfinity, ErrorShape.Normal,
                    x => Between(xs, one, x)));
            }
        }

        if (errors != PointErrors.Independent)
        {
            double[] largest = [.. points.GroupBy(p => p.Reading).OrderBy(g => g.Key).Select(g => g.Max(p => p.StandardUncertainty))];
            found.Add(new("reference", 1, double.PositiveInfinity, ErrorShape.Normal, x => Between(xs, largest, x)));
        }

        if (Bend(xs, corrections) is > 0 and var bend)
        {
            found.Add(new("between-points", bend / Math.Sqrt(3), double.PositiveInfinity, ErrorShape.Rectangular, _ => 1));
        }

        return new CorrectionCurve(x => Between(xs, corrections, x), found, xs);
    }

    /// <summary>Linear interpolation; beyond the ends the outermost lines are extended.</summary>
    internal static double Between(double[] xs, double[] ys, double x)
    {
        int i = 1;
        while (i < xs.Length - 1 && x > xs[i])
        {
            i++;
        }

        return ys[i - 1] + ((ys[i] - ys[i - 1]) * (x - xs[i - 1]) / (xs[i] - xs[i - 1]));
    }

    private static double Bend(double[] xs, double[] ys)
    {
        double most = 0;
        for (int i = 1; i + 1 < xs.Length; i++)
        {
            double line = ys[i - 1] + ((ys[i + 1] - ys[i - 1]) * (xs[i] - xs[i - 1]) / (xs[i + 1] - xs[i - 1]));
            most = Math.Max(most, Math.Abs(ys[i] - line));
        }

        return most / 4;
    }
}
