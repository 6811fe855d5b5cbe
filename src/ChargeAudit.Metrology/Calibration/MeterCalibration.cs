using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Calibration;

/// <summary>A calibration of one quantity of a meter, as a study states it, with the conditions that it holds for. Immutable.</summary>
public sealed record MeterCalibration
{
    /// <summary>What was calibrated: power, voltage, current, or an energy counter.</summary>
    public required LogQuantity Quantity { get; init; }

    /// <summary>How corrections between the points are obtained.</summary>
    public required CorrectionModel Model { get; init; }

    /// <summary>The points, zero readings among them.</summary>
    public required IReadOnlyList<CalibrationPoint> Points { get; init; }

    /// <summary>The curve through them.</summary>
    public required CorrectionCurve Curve { get; init; }

    /// <summary>Day of the calibration; null: not stated.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>How the points' errors are correlated.</summary>
    public PointErrors Errors { get; init; }

    /// <summary>How far the meter may have moved in a year since, in the form of an accuracy; null: not stated.</summary>
    public MeterAccuracy? DriftPerYear { get; init; }

    /// <summary>Readings that it holds for: from nothing, or the smallest point, to the largest, unless a range is stated. [coherent
    /// unit]</summary>
    public required (double From, double To) Range { get; init; }

    /// <summary>Power factors that it holds for; null: any. [1]</summary>
    public (double From, double To)? PowerFactor { get; init; }

    /// <summary>Files of a log of zero readings, which are measured first; empty: none.</summary>
    public IReadOnlyList<string> ZeroFiles { get; init; } = [];
}
