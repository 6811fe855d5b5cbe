using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Metrology.Calibration;

/// <summary>One independent error of a correction.</summary>
/// <param name="Part">Which, such as <c>slope</c>.</param>
/// <param name="StandardUncertainty">Of the error itself; how far it moves a correction is this times the sensitivity.</param>
/// <param name="DegreesOfFreedom">Positive infinity where taken as known.</param>
/// <param name="Shape">How it is distributed.</param>
/// <param name="Sensitivity">By how much a correction at a reading moves with the error.</param>
public sealed record CorrectionError(
    string Part, double StandardUncertainty, double DegreesOfFreedom, ErrorShape Shape, Func<double, double> Sensitivity);
