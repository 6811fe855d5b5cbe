using ChargeAudit.Metrology;

namespace ChargeAudit.Comparing.Placement;

/// <summary>How far the device may lie off the best position before a charge uses so much more. Nothing is said beyond the offsets that
/// were measured.</summary>
/// <param name="Rise">By what share more. [1]</param>
/// <param name="BestXMm">The best position, first direction; null where that direction was not varied. [mm]</param>
/// <param name="BestYMm">The best position, second direction; null where that direction was not varied. [mm]</param>
/// <param name="Fitted">Whether the best position is the bottom of the fitted bowl; otherwise it is the best one measured.</param>
/// <param name="OffsetMm">The tolerance; null where it is not reached within the measured offsets. [mm]</param>
/// <param name="LowMm">Lower end of its 95 % interval; null where not known. [mm]</param>
/// <param name="HighMm">Upper end of its 95 % interval; null where it lies beyond the measured offsets or is not known. [mm]</param>
/// <param name="MeasuredToMm">The greatest offset from the best position that was measured. [mm]</param>
/// <param name="WhyNot">Why the tolerance is not known, as a sentence; null where it is, or where it is not reached.</param>
public sealed record PositionTolerance(
    double Rise,
    double? BestXMm,
    double? BestYMm,
    bool Fitted,
    double? OffsetMm,
    double? LowMm,
    double? HighMm,
    double MeasuredToMm,
    string? WhyNot)
{
    /// <summary>The fitted rise from the best position out to the greatest offset that was measured; empty where it is not known.</summary>
    public IReadOnlyList<RiseAtOffset> Curve { get; init; } = [];

    /// <summary>The finding as a sentence.</summary>
    /// <param name="method">Name of the method.</param>
    public string Sentence(string method)
    {
        string rise = Prose.Of($"{100 * Rise:0.##} %");
        if (WhyNot is not null)
        {
            return $"{method}: how far off the device may lie before a charge uses {rise} more is not known: {WhyNot}";
        }

        string best = (BestXMm, BestYMm) switch
        {
            ({ } x, { } y) => $"the best position, {FactorWords.Position(x, y)}{(Fitted ? "" : " (the best one measured)")}",
            ({ } x, null) => Prose.Of($"the best position, x = {x:0.##} mm{(Fitted ? "" : " (the best one measured)")}"),
            (null, { } y) => Prose.Of($"the best position, y = {y:0.##} mm{(Fitted ? "" : " (the best one measured)")}"),
            _ => "the best position",
        };
        if (OffsetMm is not { } offset)
        {
            string atLeast = LowMm is { } least && least < MeasuredToMm
                ? Prose.Of($"; by the scatter of the runs it may be reached from {least:0.0} mm on")
                : "";
            return Prose.Of(
                $"{method}: a rise of {rise} is not reached within the measured offsets, up to {MeasuredToMm:0.#} mm from "
                + $"{best}{atLeast}.");
        }

        string interval = (LowMm, HighMm) switch
        {
            ({ } low, { } high) => Prose.Of($" ({low:0.0} to {high:0.0} mm)"),
            ({ } low, null) => Prose.Of($" ({low:0.0} mm or more; the upper end lies beyond the measured offsets)"),
            _ => "; too few runs for an interval",
        };
        return Prose.Of($"{method}: a charge uses {rise} more at {offset:0.0} mm{interval} from {best}.");
    }
}

/// <summary>The fitted rise at one offset.</summary>
/// <param name="OffsetMm">Offset from the best position. [mm]</param>
/// <param name="Rise">By what share a charge takes more there. [1]</param>
/// <param name="Low">Lower end of its 95 % interval by the scatter of the runs; not a number where not known. [1]</param>
/// <param name="High">Its upper end. [1]</param>
public readonly record struct RiseAtOffset(double OffsetMm, double Rise, double Low, double High);
