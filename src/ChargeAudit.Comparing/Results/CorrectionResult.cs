using ChargeAudit.Logs;

namespace ChargeAudit.Comparing.Results;

/// <summary>What the calibrations of meters changed in one figure.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Point">Where it was measured.</param>
/// <param name="Figure">Which figure.</param>
/// <param name="AsRead">The figure as read, before the correction.</param>
/// <param name="Correction">What was added to it.</param>
/// <param name="Unit">Unit of both.</param>
/// <param name="By">The calibrations, in words.</param>
public sealed record CorrectionResult(
    string Method, MeasuringPoint Point, CorrectedFigure Figure, double AsRead, double Correction, string Unit, string By);
