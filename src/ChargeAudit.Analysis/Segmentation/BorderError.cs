namespace ChargeAudit.Analysis.Segmentation;

/// <summary>
/// What makes a border between two modes uncertain, as a named source: whatever carries the same name moves with it. A border that lies too late gives to the mode
/// before it what it takes from the mode after it.
/// </summary>
/// <param name="SourceId">Name of the source, such as <c>log:pad-1.csv/border-at-240.0-s</c>.</param>
/// <param name="UncertaintyS">Standard uncertainty. [s]</param>
public readonly record struct BorderError(string SourceId, double UncertaintyS);
