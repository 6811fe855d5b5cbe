using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>A flat, low stage that comes before the high part of a charge, straight after nothing was drawn.</summary>
/// <param name="Stage">Its first segment, and the one after its last.</param>
/// <param name="Charge">First segment of the charge.</param>
/// <param name="IsPart">Whether it is counted with the charge.</param>
internal readonly record struct FirstStage(SegmentRun Stage, int Charge, bool IsPart)
{
    /// <summary>
    /// Where nothing at all was drawn before, a flat stage is the device's where it stands this share of the way up to the charge's level,
    /// and may be so above the second share: the first draw of a pad that is plugged in looks the same. Where it is known what the charger
    /// draws by itself, what stands clear of that is the device's. [1]
    /// </summary>
    public const double SureShare = 0.25;
    public const double PossibleShare = 0.02;

    /// <summary>What to say about it.</summary>
    public string Doubt(IReadOnlyList<PowerSegment> segments)
    {
        double energyWh = Enumerable.Range(Stage.From, Stage.To - Stage.From).Sum(i => segments[i].MeanW * segments[i].DurationS) / 3600;
        double minutes = (segments[Stage.To - 1].EndS - segments[Stage.From].StartS) / 60;
        string taken = IsPart ? "It is taken for the first stage of the charge" : "It is taken for waiting";
        return Prose.Of(
            $"For {minutes:F0} min before the charge the power is {segments[Stage.From].MeanW:G3} W, and before that nothing: a "
                + $"trickle into the battery, or a charger that was plugged in and waits. {taken}, and the intervals "
                + $"hold the other reading ({energyWh:G3} Wh); a log of the waiting charger, or kind and point in a study, would tell.");
    }
}
