using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Tells a charge that was held and then finished from two charges: the device stays, as it draws more than the charger does alone; the
/// charge broke off high, not at the end of a fall; and what follows it runs no higher. Pure.
/// </summary>
internal sealed class ChargeHolds(IReadOnlyList<PowerSegment> segments, PowerLevels levels, SegmentMeasures measures, ModeOptions options,
    double leastChargeS)
{
    /// <summary>A charge that ends above this share of its level was broken off. [1]</summary>
    private const double BrokenOffShare = 0.3;

    /// <summary>What goes on runs no higher than this multiple of the level before, and after a pause about as high as this. [1]</summary>
    private const double HighestAfter = 1.2;
    private const double SamePower = 0.7;

    /// <summary>A device that stays draws this multiple of what the charger draws alone. [1]</summary>
    private const double AboveWaiting = 1.25;
    private const double NearS = 300;

    /// <summary>Whether a run finishes a charge that was held before it, the device staying.</summary>
    public bool Finishes(SegmentRun charge, SegmentRun next) =>
        GoesOnFrom(charge, next) && measures.DurationS(next) >= leastChargeS
            && measures.EnergyJ(next) > options.TopUpShare * measures.EnergyJ(charge)
        && WaitingW(charge) is { } waiting && Stays(charge.To, next.From, waiting);

    /// <summary>Whether the device was taken off between a charge and a run: for a time no more is drawn than the charger is known to draw
    /// alone.</summary>
    public bool IsGone(SegmentRun charge, SegmentRun next) => WaitingW(charge) is { } waiting && !Stays(charge.To, next.From, waiting);

    /// <summary>Whether a run goes on at about the power at which a charge broke off, so that a pause longer than allowed may lie
    /// between.</summary>
    public bool MayGoOn(SegmentRun charge, SegmentRun next) =>
        GoesOnFrom(charge, next) && measures.LevelW(next) >= SamePower * EndW(charge);

    /// <summary>What to say about two charges that may be one with a pause.</summary>
    public string PauseDoubt(SegmentRun charge, SegmentRun next) => Prose.Of(
        $"Between the charges that end at {segments[charge.To - 1].EndS:F0} s and begin at {segments[next.From].StartS:F0} s lies a pause "
            + $"of {(segments[next.From].StartS - segments[charge.To - 1].EndS) / 60:F0} min, and the second goes on about as high as the "
            + $"first broke off: power cannot tell whether they are one charge of one device. They are counted as two; longest-pause in "
            + $"[modes] of a study joins them.");

    /// <summary>What to say about a charge in which the charger, which draws something alone, draws nothing for a time: it was unplugged;
    /// null where it was not.</summary>
    public string? UnpluggedDoubt(SegmentRun charge, SegmentRun next)
    {
        double zeroW = options.ZeroShareOfPlateau * levels.PlateauW;
        var dead = Enumerable.Range(charge.To, Math.Max(0, next.From - charge.To)).Select(i => segments[i])
            .Where(s => s.DurationS >= leastChargeS && Math.Abs(s.MeanW) <= zeroW).ToList();
        return dead.Count == 0 || WaitingW(charge) is not { } waiting || waiting <= zeroW ? null : Prose.Of(
            $"Within the charge nothing at all is drawn from {dead[0].StartS:F0} s to {dead[^1].EndS:F0} s, less than by the charger "
                + $"alone: it was probably unplugged. What follows is taken for the same charge, as it goes on at about the same power.");
    }

    /// <summary>What to say about a hold.</summary>
    public string HoldDoubt(SegmentRun hold)
    {
        double hours = measures.DurationS(hold) / 3600;
        double energyWh = measures.EnergyJ(hold, 0) / 3600;
        return Prose.Of(
            $"The charge breaks off, is held at {energyWh / hours:G3} W for {hours:F1} h with the device still there, and is then "
                + $"finished: it is taken for one charge, and {energyWh:G3} Wh of its energy flow while it is held.");
    }

    private bool GoesOnFrom(SegmentRun charge, SegmentRun next) =>
        EndW(charge) >= BrokenOffShare * measures.LevelW(charge) && measures.LevelW(next) <= HighestAfter * measures.LevelW(charge);

    private double EndW(SegmentRun charge)
    {
        double end = segments[charge.To - 1].EndS;
        return measures.MeanW(Math.Max(segments[charge.From].StartS, end - NearS), end);
    }

    /// <summary>What the charger draws alone: as given, or as the log shows before its first charge; null where it does not. [W]</summary>
    private double? WaitingW(SegmentRun charge)
    {
        if (options.NoLoadPowerW is { } given)
        {
            return given;
        }

        var before = Enumerable.Range(0, charge.From)
            .Where(i => segments[i].MeanW < levels.ChargeAboveW && segments[i].DurationS >= leastChargeS).ToList();
        return before.Count == 0 ? null : measures.MedianW(before);
    }

    private bool Stays(int from, int to, double waitingW)
    {
        double clear = Math.Max((AboveWaiting * waitingW) + (4 * levels.NoiseW), options.ZeroShareOfPlateau * levels.PlateauW);
        return Enumerable.Range(from, to - from).All(i => segments[i].DurationS < leastChargeS || segments[i].MeanW > clear);
    }
}
