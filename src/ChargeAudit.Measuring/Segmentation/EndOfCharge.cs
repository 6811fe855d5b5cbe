using System.Text.Json.Serialization;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>A rule that says when a charge is over.</summary>
public enum EndRule
{
    /// <summary>Power above the floor has fallen to a share of what it was at the plateau: the same state of the battery by cable and by
    /// pad.</summary>
    [JsonStringEnumMemberName("share-above-floor")] ShareAboveFloor,

    /// <summary>Power stops falling and turns flat: the charger itself has ended the charge.</summary>
    [JsonStringEnumMemberName("change-point")] ChangePoint,

    /// <summary>
    /// Power has fallen to a share of the plateau, floor included. For information: the fixed overhead of a pad keeps its input up, so this
    /// ends a pad at a fuller battery than a cable.
    /// </summary>
    [JsonStringEnumMemberName("plain-share")] PlainShare,
}

/// <summary>An end of charge by one rule.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="EndS">When; null where the rule finds none. [s]</param>
/// <param name="UncertaintyS">Standard uncertainty; zero where there is no end. [s]</param>
/// <param name="EnergyJ">Energy from the start of the charge to this end; zero where there is none. [J]</param>
/// <param name="WhyNot">Why there is none, as a sentence without a full stop; null where there is one.</param>
public sealed record EndEstimate(EndRule Rule, double? EndS, double UncertaintyS, double EnergyJ, string? WhyNot);

/// <summary>The three ends of a charge.</summary>
/// <param name="StartS">Start of the charge. [s]</param>
/// <param name="PlateauW">Greatest power kept up. [W]</param>
/// <param name="FloorW">What is drawn though the battery takes nothing: maintenance, else no-load, else zero. [W]</param>
/// <param name="Ends">One entry per rule.</param>
public sealed record ChargeEnds(double StartS, double PlateauW, double FloorW, IReadOnlyList<EndEstimate> Ends)
{
    /// <summary>The end by a rule.</summary>
    public EndEstimate By(EndRule rule) => Ends.First(e => e.Rule == rule);
}

/// <summary>
/// Ends a charge by three rules. Input power follows the battery as P = floor + P_battery/η; only the part above the floor tells the
/// battery's state. <i>Source:</i> common practice, no source; the bias of the plain rule follows from that line.
/// </summary>
public static class EndOfCharge
{
    /// <summary>Share of the plateau at which the charge counts as over, by default: C/10 of a charge at about 1 C. Common practice, no
    /// source. [1]</summary>
    public const double DefaultShare = 0.1;

    // By the share of the log's own plateau above its floor, or by a power above the floor that another log has set.
    private static ChargeEnds Find(PowerEnvelope envelope, ModeFinding finding, ModeSpan charge, SmoothTrack track, double share,
        double? thresholdAboveFloorW)
    {
        double floor = finding.Thresholds.MaintenanceW ?? finding.Thresholds.NoLoadW ?? 0;
        double plateau = track.GreatestW;
        double above = floor + (thresholdAboveFloorW ?? (share * (plateau - floor)));
        bool endsInLog = finding.Modes[^1] != charge && finding.Modes[^1].EndS > charge.EndS;
        double noise = finding.Thresholds.NoiseW;
        return new ChargeEnds(charge.StartS, plateau, floor,
        [
            ByThreshold(EndRule.ShareAboveFloor, envelope, charge, track, above, noise, endsInLog),
            endsInLog
                ? new EndEstimate(EndRule.ChangePoint, charge.EndS, charge.EndUncertaintyS,
                    envelope.EnergyBetweenJ(charge.StartS, charge.EndS), null)
                : new EndEstimate(EndRule.ChangePoint, null, 0, 0, "the log ends before power turns flat"),
            ByThreshold(EndRule.PlainShare, envelope, charge, track, share * plateau, noise, endsInLog),
        ]);
    }

    /// <summary>
    /// The ends of two charges of the same battery at the same power into the battery. Both delivered about the same energy, so the
    /// energies above the floors tell how much input each needs for a watt into the battery, and the thresholds are set in that proportion.
    /// </summary>
    /// <param name="reference">Log of the reference, its modes and its charge.</param>
    /// <param name="other">Log of the other method, likewise.</param>
    /// <param name="share">Share of the lower of the two plateaus, above 0 and below 1. [1]</param>
    public static (ChargeEnds Reference, ChargeEnds Other) FindAlike(
        (PowerEnvelope Envelope, ModeFinding Finding, ModeSpan Charge) reference,
        (PowerEnvelope Envelope, ModeFinding Finding, ModeSpan Charge) other,
        double share = DefaultShare)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(share, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(share, 1);
        var track = SmoothTrack.Of(reference.Envelope, reference.Charge);
        var otherTrack = SmoothTrack.Of(other.Envelope, other.Charge);
        var a = Find(reference.Envelope, reference.Finding, reference.Charge, track, share, null);
        var b = Find(other.Envelope, other.Finding, other.Charge, otherTrack, share, null);
        double perWatt = AboveFloorJ(other.Envelope, b) / AboveFloorJ(reference.Envelope, a);
        double threshold = share * Math.Min(a.PlateauW - a.FloorW, (b.PlateauW - b.FloorW) / perWatt);

        // The end moves the energy, and that the proportion; it settles at once, as the last tenth of the power holds little energy.
        a = Find(reference.Envelope, reference.Finding, reference.Charge, track, share, threshold);
        double aboveFloorJ = AboveFloorJ(reference.Envelope, a);
        for (int i = 0; i < 3; i++)
        {
            b = Find(other.Envelope, other.Finding, other.Charge, otherTrack, share, threshold * perWatt);
            perWatt = AboveFloorJ(other.Envelope, b) / aboveFloorJ;
        }

        return (a, b);
    }

    private static double AboveFloorJ(PowerEnvelope envelope, ChargeEnds ends)
    {
        double? end = ends.By(EndRule.ShareAboveFloor).EndS ?? ends.By(EndRule.ChangePoint).EndS;
        double to = end ?? envelope.StartS(envelope.Count);
        return envelope.EnergyBetweenJ(ends.StartS, to) - (ends.FloorW * envelope.CoveredBetweenS(ends.StartS, to));
    }

    private static EndEstimate ByThreshold(
        EndRule rule, PowerEnvelope envelope, ModeSpan charge, SmoothTrack track, double thresholdW, double noiseW, bool endsInLog)
    {
        if (track.LastCrossing(thresholdW) is { } crossing)
        {
            double scatter = noiseW / Math.Sqrt(track.CellsPerMean) / Math.Max(1e-12, crossing.FallWPerS);
            double u = Math.Sqrt((scatter * scatter) + (envelope.BucketWidthS * envelope.BucketWidthS / 12));
            return new EndEstimate(rule, crossing.TimeS, Math.Min(u, charge.DurationS),
                envelope.EnergyBetweenJ(charge.StartS, crossing.TimeS), null);
        }

        return endsInLog
            ? new EndEstimate(rule, charge.EndS, charge.EndUncertaintyS, envelope.EnergyBetweenJ(charge.StartS, charge.EndS), null)
            : new EndEstimate(rule, null, 0, 0, "the log ends before power has fallen that far");
    }
}
