using ChargeAudit.Logs;

namespace ChargeAudit.Studies.Drafting;

/// <summary>One log with what was decided of it alone. Immutable.</summary>
/// <param name="Facts">What the log shows.</param>
/// <param name="Words">What its name says.</param>
/// <param name="Point">Where its meter sat.</param>
internal sealed record PlacedLog(LogFacts Facts, NameWords Words, PointGuess Point)
{
    /// <summary>Whether it holds a charge.</summary>
    public bool HoldsCharge => Facts.Charges.Count > 0;
}

/// <summary>The logs that were written at the same time, one a measuring point. Immutable.</summary>
/// <param name="Logs">The logs, the one nearest the wall first.</param>
/// <param name="Remarks">Why they belong together.</param>
internal sealed record RunBundle(IReadOnlyList<PlacedLog> Logs, IReadOnlyList<DraftRemark> Remarks)
{
    /// <summary>The log nearest the device: the one that sees the end of a charge best.</summary>
    public PlacedLog Deciding => Logs[^1];

    /// <summary>Whether it holds a charge; otherwise the charger waits.</summary>
    public bool HoldsCharge => Logs.Any(l => l.HoldsCharge);

    /// <summary>The log at a point; null where there is none.</summary>
    /// <param name="point">The point.</param>
    public PlacedLog? At(MeasuringPoint point) => Logs.FirstOrDefault(l => l.Point.Point == point);
}

/// <summary>A bundle with its way of charging.</summary>
/// <param name="Bundle">The logs.</param>
/// <param name="Kind">By cable or on a pad; null where nothing tells.</param>
/// <param name="Charge">Position of the charge within the logs' charges, counted from 0; null for a charger that waits.</param>
/// <param name="Remarks">Why.</param>
internal sealed record KindOfBundle(RunBundle Bundle, MethodKind? Kind, int? Charge, IReadOnlyList<DraftRemark> Remarks)
{
    /// <summary>Energy of the charge at a point; null where there is none. [Wh]</summary>
    /// <param name="point">The point.</param>
    public ChargeFacts? ChargeAt(MeasuringPoint point) =>
        Charge is { } i && Bundle.At(point) is { } log && i < log.Facts.Charges.Count ? log.Facts.Charges[i] : null;
}
