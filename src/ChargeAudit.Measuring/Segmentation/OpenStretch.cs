namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// A stretch beside the start of a charge of which power alone cannot tell whether it belongs to the charge or to the waiting before it. It
/// is counted with one of the two, and the energies of both hold the other reading, too.
/// </summary>
/// <param name="FromS">Start. [s]</param>
/// <param name="ToS">End. [s]</param>
public readonly record struct OpenStretch(double FromS, double ToS);
