using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>A stretch of a log whose readings are damaged, as a first reading of the whole log showed; a second reading counts its rows and
/// leaves them out.</summary>
/// <param name="FromS">Time of its first row or a little before. [s]</param>
/// <param name="ToS">Time of its last row or a little after. [s]</param>
/// <param name="Kind">What is wrong.</param>
/// <param name="Detail">What was found and what was done, as a sentence without a full stop.</param>
public sealed record MarkedStretch(double FromS, double ToS, FaultKind Kind, string Detail)
{
    /// <summary>Only rows whose power lies above this are meant. [W]</summary>
    public double AboveW { get; init; } = double.NegativeInfinity;

    /// <summary>Only rows whose power does not lie above this are meant. [W]</summary>
    public double AtMostW { get; init; } = double.PositiveInfinity;

    /// <summary>Whether the rows are counted only, and stay in the sums.</summary>
    public bool Kept { get; init; }

    /// <summary>Energy that the rows may hide, either way, where nothing else allows for it. [J]</summary>
    public double HiddenJ { get; init; }
}
