namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Ends a charge later where what was taken for a full device still falls. A full device's level follows the last step down: what still
/// falls belongs to the charge, and so does a level after which power steps down to another that is not the waiting charger's. Pure.
/// </summary>
/// <remarks>A tail looks level in two cases: where readings are coarse, so that each lasts long, and where rows are few.</remarks>
internal sealed class RestOfFall(PowerSeries fine, double stepW, double noiseW, double intervalS, double? knownWaitingW,
    double unwrittenW)
{
    /// <summary>What still falls loses at least this share of its level. [1]</summary>
    private const double LeastFall = 0.2;

    /// <summary>A fall never comes back by more than this share of itself. [1]</summary>
    private const double MostComeBack = 0.25;

    /// <summary>What falls by more than this share of its fall from one piece to the next steps down. [1]</summary>
    private const double MostAtOnce = 0.7;

    /// <summary>A charge runs into its tail without a step: no larger than this share of its level, or than this multiple of the falls
    /// beside it. [1]</summary>
    private const double NoStepShare = 0.15;
    private const double NoStepByFall = 1.5;
    private const double NoStepByNoise = 4;
    private const double NoStepByUnwritten = 2.1;

    /// <summary>A switched load is looked for over at least this long before the border. [s]</summary>
    private const double LeastBeforeS = 600;

    /// <summary>Neighbouring readings of a coarse meter differ by one step; two are clear. [1]</summary>
    public const double OneStep = 1.5;

    /// <summary>Another level than the waiting charger's: higher by this share of it, and by this share of the fall. [1]</summary>
    private const double OtherThanWaiting = 0.5;
    private const double OtherByFall = 0.1;

    /// <summary>A charger that waits may take as little; where the step of the readings is no finer, it may read as nothing. Common
    /// practice, no source. [W]</summary>
    private const double LeastWaitingW = 0.05;

    /// <summary>A stretch shorter than this between a charge and a level may be the charge's last part. [s]</summary>
    private const double ShortTailS = 600;

    /// <summary>A level that lasts less is read at its end. [s]</summary>
    private const double LeastAfterS = 300;

    /// <summary>A level is told by this many pieces. [1]</summary>
    private const int LeastPieces = 4;

    /// <summary>The modes with later ends of their charges.</summary>
    public List<ModeSpan> Applied(IReadOnlyList<ModeSpan> modes)
    {
        var changed = new List<ModeSpan>(modes);
        for (int i = 0; i + 1 < changed.Count; i++)
        {
            if (changed[i].Mode == Mode.Charge && changed[i + 1].Mode == Mode.NoLoad && IsFull(changed, i))
            {
                changed[i + 1] = changed[i + 1] with { Mode = Mode.Maintenance };
            }

            while (changed[i].Mode == Mode.Charge && i + 1 < changed.Count && changed[i + 1].Mode == Mode.Maintenance && Extend(changed, i))
            {
                // Each turn removes a level, so this ends.
            }
        }

        return changed;
    }

    // Where nothing was drawn, the charger may have been unplugged.
    private bool ShowsWaiting(List<ModeSpan> modes, int charge) => knownWaitingW is not null
        || (charge > 0 && modes[charge - 1].Mode == Mode.NoLoad);

    // What the charger draws alone: as another log showed it, or as this one does right before the charge, whichever is more; NaN where
    // neither. [W]
    private double WaitingW(List<ModeSpan> modes, int charge)
    {
        if (charge == 0 || modes[charge - 1].Mode is not (Mode.NoLoad or Mode.Off)
            || (modes[charge - 1].Mode == Mode.Off && stepW < LeastWaitingW))
        {
            return knownWaitingW ?? double.NaN;
        }

        var before = PieceTrack.Of(fine, modes[charge - 1].StartS, modes[charge - 1].EndS - modes[charge - 1].EndUncertaintyS);
        double shownW = before.MedianW(0, before.Count);
        return knownWaitingW is { } known && !(shownW > known) ? known : shownW;
    }

    // Another level than that of the waiting charger, right after a charge.
    private bool IsFull(List<ModeSpan> modes, int charge)
    {
        var next = PieceTrack.Of(fine, modes[charge + 1].StartS + modes[charge + 1].StartUncertaintyS, modes[charge + 1].EndS);
        double levelW = next.MedianW(0, next.Count);
        return next.Count >= LeastPieces && ShowsWaiting(modes, charge) && IsOther(levelW, WaitingW(modes, charge), levelW);
    }

    private bool Extend(List<ModeSpan> modes, int charge)
    {
        var (ended, rest) = (modes[charge], modes[charge + 1]);
        var steady = SwitchedLoad.Without(fine, Math.Max(ended.StartS, ended.EndS - Math.Max(LeastBeforeS, 0.1 * rest.DurationS)),
            ended.EndS, rest.EndS, stepW, noiseW, unwrittenW) ?? fine;
        var track = PieceTrack.Of(steady, rest.StartS, rest.EndS);
        bool more = charge + 2 < modes.Count && modes[charge + 2].Mode is Mode.NoLoad or Mode.Off;
        var after = more ? PieceTrack.Of(fine, modes[charge + 2].StartS, modes[charge + 2].EndS) : null;
        double waitingW = WaitingW(modes, charge);

        // The middle of a short one may lie on the way down to it.
        double afterW = after is null ? double.NaN
            : after.MedianW(modes[charge + 2].DurationS < LeastAfterS ? 3 * after.Count / 4 : 0, after.Count);
        bool runsOn = track.Count > 0 && RunsOn(steady, ended, track);
        bool falls = runsOn && Falls(track, afterW);
        bool lastLevel = !IsOther(afterW, waitingW, track.MedianW(0, track.Count));
        if (falls)
        {
            return Fallen(modes, charge, steady, track, more && !lastLevel, more && double.IsNaN(waitingW) && afterW > 0);
        }

        if (more && (!lastLevel || double.IsNaN(waitingW)) && (!lastLevel || runsOn))
        {
            Together(modes, charge, runsOn || rest.DurationS < ShortTailS, !lastLevel && ShowsWaiting(modes, charge));
        }

        return false;
    }

    // What is not the waiting charger's is the full device's still. Where the first of two levels runs on from the charge without a step,
    // it may be the charge's, and where the log never shows the waiting charger, the second may be either.
    private static void Together(List<ModeSpan> modes, int charge, bool mayBeCharge, bool isFull)
    {
        var (rest, next) = (modes[charge + 1], modes[charge + 2]);
        var open = mayBeCharge ? new OpenStretch(rest.StartS, rest.EndS) : rest.OpenAtStart;
        modes[charge] = modes[charge] with { OpenAtEnd = open };
        modes[charge + 1] = rest with
        {
            EndS = next.EndS,
            EndUncertaintyS = next.EndUncertaintyS,
            OpenAtStart = isFull ? open : new OpenStretch(rest.StartS, next.EndS),
            OpenAtEnd = next.OpenAtEnd,
        };
        modes.RemoveAt(charge + 2);
    }

    // The fall's end becomes the charge's; where nothing of the level is left, what comes after it is the full device, unless it is the
    // waiting charger.
    private bool Fallen(List<ModeSpan> modes, int charge, PowerSeries steady, PieceTrack track, bool nextIsFull, bool nextMayBeFull)
    {
        var (ended, rest) = (modes[charge], modes[charge + 1]);
        int level = LevelFrom(track);
        bool atEnd = level >= track.Count - 1;
        bool allFalls = nextIsFull || (atEnd && (nextMayBeFull || track.EndS(track.Count - 1) - track.StartS(level) < 4 * intervalS));
        if (!allFalls)
        {
            double? stepS = level > 0 ? LastStepS(steady, track, level) : null;
            double endS = stepS ?? track.StartS(level);
            double piece = stepS is null ? track.EndS(level) - track.StartS(level) : Math.Max(intervalS, fine.WidthS);
            double u = Math.Max(ended.EndUncertaintyS, piece / Math.Sqrt(12));
            SpanRules.EndAt(modes, charge, new Border(endS, u));
            return false;
        }

        modes[charge] = ended with { EndS = rest.EndS, EndUncertaintyS = rest.EndUncertaintyS, OpenAtEnd = null };
        modes.RemoveAt(charge + 1);
        if (nextIsFull || nextMayBeFull)
        {
            modes[charge + 1] = modes[charge + 1] with { Mode = Mode.Maintenance };
        }

        return nextIsFull || nextMayBeFull;
    }

    // First piece of the level on which the fall ends.
    private int LevelFrom(PieceTrack track)
    {
        double last = track.MedianW(track.Count - Math.Max(1, track.Count / 8), track.Count);
        double fall = track.MedianW(0, Math.Max(1, track.Count / 8)) - last;
        double above = last + Math.Max(stepW > 0 ? 0.5 * stepW : 0, Math.Min(0.1 * fall, 0.5 * last));
        return Math.Min(track.Count - 1, Array.FindLastIndex(track.PowerW, p => p > above) + 1);
    }

    // Where the fall goes down to its level in one step, that step; null where it does not. [s]
    private static double? LastStepS(PowerSeries steady, PieceTrack track, int level)
    {
        int from = steady.IndexAt(track.StartS(level - 1)), to = Math.Min(steady.Count, steady.IndexAt(track.EndS(level)));
        double most = 0;
        int at = -1;
        for (int i = from + 1; i < to; i++)
        {
            double down = steady.PowerW[i - 1] - steady.PowerW[i];
            (most, at) = down > most ? (down, i) : (most, at);
        }

        return most > 0.5 * (track.PowerW[level - 1] - track.PowerW[level]) ? steady.StartS[at] : null;
    }

    private bool RunsOn(PowerSeries steady, ModeSpan charge, PieceTrack track)
    {
        double reach = Math.Max(8 * intervalS, 4 * (track.EndS(0) - track.StartS(0)));
        var before = PieceTrack.Of(steady, Math.Max(charge.StartS, charge.EndS - reach), charge.EndS);
        if (before.Count < 2)
        {
            return false;
        }

        double last = before.PowerW[^1];
        double beside = Math.Max(before.PowerW[^2] - last, track.Count > 1 ? track.PowerW[0] - track.PowerW[1] : 0);
        double allowed = Math.Max(Math.Max(NoStepShare * last, OneStep * stepW),
            Math.Max(Math.Max(NoStepByNoise * noiseW, NoStepByUnwritten * unwrittenW), NoStepByFall * beside));
        return last - track.PowerW[0] <= allowed;
    }

    private bool Falls(PieceTrack track, double afterW)
    {
        if (track.Count < 3)
        {
            // Two or three slow rows that go down one after the other, to a lower level.
            return track.Count > 1 && track.PowerW[0] - track.PowerW[^1] > Math.Max(LeastFall * track.PowerW[0], NoStepByNoise * noiseW)
                && afterW < track.PowerW[^1];
        }

        int third = track.Count / 3;
        double first = track.MedianW(0, third);
        double last = track.MedianW(track.Count - third, track.Count);
        double fall = first - last;
        if (!(fall > Math.Max(LeastFall * first, Math.Max(0.9 * stepW, NoStepByNoise * noiseW))))
        {
            return false;
        }

        if (StepsDown(track, fall))
        {
            return false;
        }

        double least = double.PositiveInfinity;
        foreach (double power in track.PowerW)
        {
            if (power - least > Math.Max(MostComeBack * fall, Math.Max(stepW > 0 ? 0.1 * stepW : 0, NoStepByNoise * noiseW)))
            {
                return false;
            }

            least = Math.Min(least, power);
        }

        return true;
    }

    // Two levels with a step between them do not fall, unless it is one of the meter's own. Between two rows a step is a straight line over
    // the cells between them.
    private bool StepsDown(PieceTrack track, double fallW)
    {
        double pieceS = track.EndS(0) - track.StartS(0);
        int apart = intervalS > 0.5 * pieceS ? 1 + (int)Math.Ceiling(intervalS / pieceS) : 1;
        double most = 0;
        int level = 0;
        for (int i = apart; i < track.Count; i++)
        {
            double downW = track.PowerW[i - apart] - track.PowerW[i];
            (most, level) = downW > most ? (downW, i - apart + 1) : (most, level);
        }

        return level >= LeastPieces && most > MostAtOnce * fallW && most > Math.Max(OneStep * stepW, NoStepByNoise * noiseW)
            && track.MedianW(0, level / 2) - track.MedianW(level / 2, level) < (1 - MostAtOnce) * most;
    }

    private bool IsOther(double afterW, double waitingW, double restW) =>
        afterW - waitingW > Math.Max(OtherThanWaiting * Math.Max(0, waitingW),
            Math.Max(OtherByFall * (restW - waitingW), Math.Max(0.5 * stepW, NoStepByNoise * noiseW)));
}
