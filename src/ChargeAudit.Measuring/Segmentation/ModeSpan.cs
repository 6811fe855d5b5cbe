namespace ChargeAudit.Measuring.Segmentation;

/// <summary>A stretch of one mode. Times count from the log's first sample; a border's uncertainty is that of where the mode
/// changed.</summary>
/// <param name="Mode">The mode.</param>
/// <param name="StartS">Where it starts, inclusive. [s]</param>
/// <param name="EndS">Where it ends, exclusive. [s]</param>
/// <param name="StartUncertaintyS">Standard uncertainty of the start; zero at the log's own edge. [s]</param>
/// <param name="EndUncertaintyS">Standard uncertainty of the end; zero at the log's own edge. [s]</param>
public sealed record ModeSpan(Mode Mode, double StartS, double EndS, double StartUncertaintyS, double EndUncertaintyS)
{
    /// <summary>Length. [s]</summary>
    public double DurationS => EndS - StartS;

    /// <summary>What makes the start uncertain, where it was carried over from another log; null where the log itself shows it.</summary>
    public IReadOnlyList<BorderError>? StartErrors { get; init; }

    /// <summary>What makes the end uncertain, where it was carried over from another log; null where the log itself shows it.</summary>
    public IReadOnlyList<BorderError>? EndErrors { get; init; }

    /// <summary>A stretch on either side of the start that may belong to the mode before, or is counted there and may belong to this one;
    /// null where there is none.</summary>
    public OpenStretch? OpenAtStart { get; init; }

    /// <summary>Likewise of the end and the mode after.</summary>
    public OpenStretch? OpenAtEnd { get; init; }
}
