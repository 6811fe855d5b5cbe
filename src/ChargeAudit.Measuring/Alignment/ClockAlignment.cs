namespace ChargeAudit.Measuring.Alignment;

/// <summary>How one log's clock runs beside another's: reference time = offset + (1 + drift) · other time, both from their first
/// samples.</summary>
/// <param name="OffsetS">Offset. [s]</param>
/// <param name="OffsetUncertaintyS">Its standard uncertainty in the middle of the steps used. [s]</param>
/// <param name="DriftPpm">Drift in parts per million; null where the steps lie too close together to show it (zero is then used).</param>
/// <param name="DriftUncertaintyPpm">Its standard uncertainty; null where there is no drift.</param>
/// <param name="Correlation">Correlation of the power steps at this offset. [1]</param>
/// <param name="NextBest">Correlation at the best other offset. [1]</param>
public sealed record ClockAlignment(
    double OffsetS, double OffsetUncertaintyS, double? DriftPpm, double? DriftUncertaintyPpm, double Correlation, double NextBest)
{
    /// <summary>Time on the other log's clock. [s]</summary>
    /// <param name="referenceS">Time on the reference's clock. [s]</param>
    public double ToOtherS(double referenceS) => (referenceS - OffsetS) / (1 + ((DriftPpm ?? 0) * 1e-6));
}

/// <summary>An alignment, or why there is none.</summary>
/// <param name="Alignment">The alignment; null where it was refused.</param>
/// <param name="RefusedBecause">Why, as a sentence without a full stop; null where there is one.</param>
public sealed record AlignmentFinding(ClockAlignment? Alignment, string? RefusedBecause);
