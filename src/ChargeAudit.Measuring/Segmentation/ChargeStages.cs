namespace ChargeAudit.Measuring.Segmentation;

/// <summary>Tells which flat, low stages belong to a charge: the trickle into an empty battery before it, and the last stages of one that
/// ends without a fall. Pure.</summary>
internal sealed class ChargeStages(IReadOnlyList<PowerSegment> segments, PowerLevels levels, ModeOptions options, double leastChargeS)
{
    /// <summary>
    /// A flat low stage at the end of a charge that has not fallen stands above what follows by this share of the way to the charge's
    /// level: least where the device is seen to stay and draws less than two thirds of the stage, most where the stage and one level are
    /// all that follows, so that it might be the full device. [1]
    /// </summary>
    private const double KeptStageShare = 0.04;
    private const double KeptStageRatio = 1.5;
    private const double AboveWaiting = 1.25;
    private const double StageShare = 0.25;
    private const double LoneStageShare = 0.4;

    /// <summary>
    /// A flat low stage at the start of a charge stands above waiting by at least this share of the way to the charge's level, and scatters
    /// by no more than this share of its rise, as waiting with pulses would. Waiting is what the last hour before it shows. [1], [s]
    /// </summary>
    private const double LeastStageRise = 0.1;
    private const double MostStageScatter = 0.25;
    private const double LastWaitingS = 3600;

    /// <summary>Stages whose owner (device or waiting charger) power alone does not tell.</summary>
    public List<FirstStage> Open { get; } = [];

    /// <summary>
    /// First segment of a charge with the flat, low stages before it, as when an empty battery is woken: such a stage follows on waiting,
    /// from which it rises clearly, and power does not sink back.
    /// </summary>
    /// <param name="earliest">Segment after the charge before, or 0.</param>
    /// <param name="index">First segment of the charge's high part.</param>
    /// <param name="chargeW">Level of the charge. [W]</param>
    public int StartOf(int earliest, int index, double chargeW)
    {
        while (index > earliest)
        {
            // The step itself may be a short stretch between the two levels.
            int stage = index - 1;
            if (stage > earliest && segments[stage].DurationS < leastChargeS)
            {
                stage--;
            }

            if (IsFirst(earliest, stage, segments[index].MeanW, chargeW))
            {
                index = stage;
            }
            else if (IsFirstFromNothing(earliest, stage, segments[index].MeanW, chargeW) is { } isPart)
            {
                AddOpen(new FirstStage(new SegmentRun(stage, index), isPart ? stage : index, isPart));
                if (!isPart)
                {
                    break;
                }

                index = stage;
            }
            else if (IsShortFirst(earliest, index - 1, segments[index].MeanW, chargeW))
            {
                index--;
            }
            else
            {
                break;
            }
        }

        return index;
    }

    private void AddOpen(FirstStage stage)
    {
        Open.RemoveAll(s => s.Stage.From == stage.Stage.From);
        if (options.NoLoadPowerW is null)
        {
            Open.Add(stage);
        }
    }

    // A stage straight after nothing at all was drawn: whether it is the device's is told by what the charger is known to draw alone, or by
    // how high the stage stands. Null where it is not a stage of a charge.
    private bool? IsFirstFromNothing(int earliest, int index, double nextW, double chargeW)
    {
        double zeroW = options.ZeroShareOfPlateau * levels.PlateauW;
        var stage = segments[index];
        bool flat = stage.DurationS >= leastChargeS && stage.MeanW < nextW && stage.SdW < MostStageScatter * stage.MeanW
            && Math.Abs(stage.DropW) < stage.MeanW;
        if (!flat || earliest > 0 || index == 0 || !Enumerable.Range(0, index)
            .All(i => Math.Abs(segments[i].MeanW) <= Math.Max(zeroW, 3 * levels.NoiseW) || segments[i].DurationS < leastChargeS))
        {
            return null;
        }

        double rise = stage.MeanW - (options.NoLoadPowerW ?? 0);
        double share = rise / chargeW;
        return options.NoLoadPowerW is not null ? share >= FirstStage.PossibleShare ? true : null
            : share >= FirstStage.SureShare ? true
            : share >= FirstStage.PossibleShare ? false : null;
    }

    // The seconds in which charger and device agree on more power may be cut off as a stretch of their own.
    private bool IsShortFirst(int earliest, int index, double nextW, double chargeW)
    {
        if (index <= earliest)
        {
            return false;
        }

        var (before, stage) = (segments[index - 1], segments[index]);
        double rise = stage.MeanW - before.MeanW;
        return stage.DurationS >= BorderRefiner.LeastStageS && stage.DurationS < leastChargeS
            && before.DurationS >= stage.DurationS && stage.MeanW < nextW
            && rise >= Math.Max(BorderRefiner.StageShare * (chargeW - before.MeanW), 6 * levels.NoiseW)
            && stage.SdW < MostStageScatter * rise && stage.DropW < MostStageScatter * rise;
    }

    private bool IsFirst(int earliest, int index, double nextW, double chargeW)
    {
        // A log that starts with the stage shows waiting later, if at all; after another charge the full device may have drawn less than
        // the waiting charger.
        var stage = segments[index];
        bool surelyWaits = earliest == 0 && index > 0;
        double waiting = index > 0 ? WaitingW(earliest, index) ?? double.NaN : levels.LowestW;
        double rise = stage.MeanW - waiting;
        double least = surelyWaits && options.NoLoadPowerW is { } alone && stage.MeanW - alone > 0.5 * rise
            ? FirstStage.PossibleShare
            : surelyWaits ? LeastStageRise : StageShare;
        return waiting > options.ZeroShareOfPlateau * levels.PlateauW && stage.DurationS >= leastChargeS && stage.MeanW < nextW
            && stage.SdW < MostStageScatter * rise
            && rise >= least * (chargeW - waiting) && Math.Abs(stage.DropW) < rise;
    }

    /// <summary>Level of waiting before a segment: the least that lasted in the hour before it, nothing drawn left out; null where none
    /// did. [W]</summary>
    public double? WaitingW(int earliest, int index)
    {
        double least = double.PositiveInfinity;
        for (int i = index - 1; i >= earliest && segments[i].EndS > segments[index].StartS - LastWaitingS; i--)
        {
            bool lasts = segments[i].DurationS >= leastChargeS && segments[i].MeanW > options.ZeroShareOfPlateau * levels.PlateauW;
            least = lasts ? Math.Min(least, segments[i].MeanW) : least;
        }

        return double.IsFinite(least) ? least : null;
    }

    /// <summary>
    /// Last piece of the flat, low stages with which a charge may end that has not fallen before them: each stands clear of all that comes
    /// later. A charge that has fallen ends where the fall does, and what stays flat after it is the full device.
    /// </summary>
    public int LastOf(List<JoinedPieces> falls, int index, double chargeW, double? waitingW)
    {
        int last = falls[index].To - 1;
        for (int f = index + 1; f < falls.Count - 1; f++)
        {
            var stage = falls[f].Line;
            var later = falls.Skip(f + 1).Where(g => g.Line.DurationS >= leastChargeS).Select(g => g.Line.MeanW).ToList();
            if (later.Count == 0 || stage.DurationS < leastChargeS
                || !(StandsAboveKept(stage.MeanW, later, chargeW, waitingW) || StandsAbove(stage.MeanW, later, chargeW)))
            {
                break;
            }

            last = falls[f].To - 1;
        }

        return last;
    }

    // Where what follows draws more than waiting, the device is still there, and then it is what follows that is the full device. What a
    // log that shows no waiting before the charge ends with may be waiting.
    private bool StandsAboveKept(double stageW, List<double> laterW, double chargeW, double? waitingW)
    {
        double empty = waitingW ?? laterW.Min();
        double keptW = laterW.Where(w => w > (AboveWaiting * empty) + (4 * levels.NoiseW)).DefaultIfEmpty(double.PositiveInfinity).Min();
        return stageW > KeptStageRatio * keptW && stageW > keptW + (KeptStageShare * (chargeW - keptW));
    }

    private bool StandsAbove(double stageW, List<double> laterW, double chargeW)
    {
        double lowest = laterW.Min();
        bool several = laterW.Max() - lowest > Math.Max(0.3 * lowest, 4 * levels.NoiseW);
        return stageW > lowest + ((several ? StageShare : LoneStageShare) * (chargeW - lowest));
    }
}
