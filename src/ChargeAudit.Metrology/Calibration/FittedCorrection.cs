using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Calibration;

/// <summary>A correction that is one line, or a part of one, over all readings.</summary>
internal static class FittedCorrection
{
    public static CorrectionCurve Of(IReadOnlyList<CalibrationPoint> points, CorrectionModel model, PointErrors errors)
    {
        bool stated = points[0].StandardUncertainty > 0;
        double[] weights = [.. points.Select(p => stated ? 1 / (p.StandardUncertainty * p.StandardUncertainty) : 1)];
        var line = Line(points, p => p.Correction, weights, model);
        int freedom = points.Count - (model == CorrectionModel.GainAndOffset ? 2 : 1);
        double scatter = freedom > 0
            ? points.Select((p, i) => weights[i] * Math.Pow(p.Correction - line.At(p.Reading), 2)).Sum() / freedom
            : 0;

        // Stated uncertainties make each weighted square one on average; a scatter beyond that is the points' own.
        bool byScatter = !stated || scatter > 1;
        double own = byScatter ? Math.Sqrt(scatter) : errors == PointErrors.Common ? 0 : 1;
        double dof = byScatter ? freedom : double.PositiveInfinity;
        var found = new List<CorrectionError>();
        if (model != CorrectionModel.Gain)
        {
            found.Add(new("level", own * line.LevelU, dof, ErrorShape.Normal, _ => 1));
        }

        if (model != CorrectionModel.Offset)
        {
            double about = line.About;
            found.Add(new("slope", own * line.SlopeU, dof, ErrorShape.Normal, x => x - about));
        }

        if (stated && errors != PointErrors.Independent)
        {
            var together = Line(points, p => p.StandardUncertainty, weights, model);
            found.Add(new("reference", 1, double.PositiveInfinity, ErrorShape.Normal, together.At));
        }

        return new CorrectionCurve(line.At, [.. found.Where(e => e.StandardUncertainty > 0)], []);
    }

    private static FittedLine Line(IReadOnlyList<CalibrationPoint> points, Func<CalibrationPoint, double> of, double[] weights,
        CorrectionModel model)
    {
        double sum = weights.Sum();
        double about = model == CorrectionModel.Gain ? 0 : points.Select((p, i) => weights[i] * p.Reading).Sum() / sum;
        double level = model == CorrectionModel.Gain ? 0 : points.Select((p, i) => weights[i] * of(p)).Sum() / sum;
        double squares = points.Select((p, i) => weights[i] * Math.Pow(p.Reading - about, 2)).Sum();
        double slope = model == CorrectionModel.Offset
            ? 0
            : points.Select((p, i) => weights[i] * (p.Reading - about) * of(p)).Sum() / squares;
        return new FittedLine(about, level, slope, 1 / Math.Sqrt(sum), 1 / Math.Sqrt(squares));
    }

    private readonly record struct FittedLine(double About, double Level, double Slope, double LevelU, double SlopeU)
    {
        public double At(double x) => Level + (Slope * (x - About));
    }
}
