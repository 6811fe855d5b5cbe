namespace ChargeAudit.Metrology.Calibration;

/// <summary>
/// The correction of a meter's readings, from the points of its calibration. Lines are fitted by weighted least squares about the mean
/// reading, where level and slope are uncorrelated; the scatter of the points about the line takes the place of their stated uncertainties
/// where it is larger. <i>Source:</i> JCGM 100:2008, H.3 (a calibration line and its use), 5.2.2 (errors in common).
/// </summary>
public sealed class CorrectionCurve
{
    private readonly Func<double, double> _correction;

    internal CorrectionCurve(Func<double, double> correction, IReadOnlyList<CorrectionError> errors, double[] nodes)
    {
        _correction = correction;
        Errors = errors;
        Nodes = nodes;
    }

    /// <summary>Its independent errors.</summary>
    public IReadOnlyList<CorrectionError> Errors { get; }

    /// <summary>Readings at which the curve bends, rising; empty for a line. [coherent unit]</summary>
    public IReadOnlyList<double> Nodes { get; }

    /// <summary>What has to be added to a reading. [coherent unit]</summary>
    public double At(double reading) => _correction(reading);

    /// <summary>Makes the curve of a calibration.</summary>
    /// <param name="points">Its points.</param>
    /// <param name="model">How corrections between them are obtained.</param>
    /// <param name="errors">How their errors are correlated.</param>
    /// <param name="error">Why there is none, as a clause; null where there is one.</param>
    public static CorrectionCurve? TryFit(IReadOnlyList<CalibrationPoint> points, CorrectionModel model, PointErrors errors,
        out string? error)
    {
        int least = model is CorrectionModel.GainAndOffset or CorrectionModel.Interpolation ? 2 : 1;
        bool stated = points.All(p => p.StandardUncertainty > 0);
        error = points.Select(p => p.Reading).Distinct().Count() < least
                ? $"{(least == 1 ? "it has no point" : "it needs points at two readings or more")}; add one"
            : !stated && points.Any(p => p.StandardUncertainty > 0)
                ? "some of its points have a standard uncertainty and others none; state all of them"
            : !stated && (model == CorrectionModel.Interpolation || points.Count <= least)
                ? "its points have no standard uncertainty, and their scatter does not tell it; state u for each"
            : model == CorrectionModel.Gain && points.Any(p => p.Reading == 0)
                ? "a gain follows from no point that reads zero; leave the zero out, or use gain-and-offset"
            : null;
        return error is not null ? null : model == CorrectionModel.Interpolation
            ? PiecewiseCorrection.Of(points, errors)
            : FittedCorrection.Of(points, model, errors);
    }
}
