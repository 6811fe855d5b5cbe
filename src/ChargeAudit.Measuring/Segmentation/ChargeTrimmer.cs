namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Tells where a charge begins and ends within the time that it can take. It ends where the fall of its base is over: the base is what is
/// drawn without the bursts of the device's own load, put together over as many stretches as it goes on without a step, so that its fall
/// stands out of the scatter.
/// </summary>
internal sealed class ChargeTrimmer(IReadOnlyList<PowerSegment> segments, PowerLevels levels, SegmentMeasures measures, ModeOptions options,
    double leastChargeS)
{
    private readonly ChargeFalls _falls = new(segments, levels, measures, leastChargeS);
    private readonly ChargeStages _stages = new(segments, levels, options, leastChargeS);
    private readonly StairFall _stairs =
        new(segments, levels, Math.Max(options.ZeroShareOfPlateau * levels.PlateauW, SameAsZero * levels.NoiseW));

    /// <summary>A fall after so long a flat time goes on with the charge only if it is no smaller than this share of the charge's level.
    /// [s], [1]</summary>
    private const double LongFlatS = 600;
    private const double LeastLateFall = 0.03;

    /// <summary>A stretch in which a burst hides the fall is no longer than this, and lies no further than this share below where the fall
    /// ended. [s], [1]</summary>
    private const double LongestHiddenS = 600;
    private const double MostHiddenShare = 0.1;

    /// <summary>A rise to less than this multiple of what it stands on is not worth mentioning. [1]</summary>
    private const double BurstAbove = 1.15;

    /// <summary>What differs from nothing by less than this multiple of the noise is nothing. [1]</summary>
    private const double SameAsZero = 3;

    /// <summary>Last stairs of falls that may be a full device.</summary>
    public List<LastStair> OpenStairs { get; } = [];

    /// <summary>First stages whose owner (device or waiting charger) power alone does not tell.</summary>
    public IReadOnlyList<FirstStage> OpenStages => _stages.Open;

    /// <summary>Nothing longer is a burst. [s]</summary>
    public const double ShortBurstS = 900;

    /// <summary>The high part of a run without the flat stretches before it, and with the fall that follows it; and the bursts after
    /// that.</summary>
    /// <param name="run">The run.</param>
    /// <param name="limit">Segment at which another charge begins, or the number of segments.</param>
    /// <param name="earliest">Segment after the charge before, or 0.</param>
    public (SegmentRun Charge, IReadOnlyList<SegmentRun> Bursts) Trimmed(SegmentRun run, int limit, int earliest)
    {
        double level = measures.LevelW(run);
        int from = run.From;
        while (from < run.To - 1 && segments[from].DurationS >= leastChargeS && IsIdle(segments[from], level))
        {
            from++;
        }

        from = _stages.StartOf(earliest, from, level);
        var pieces =
            BurstFlattening.Base(segments, new SegmentRun(from, limit), ShortBurstS, options.TopUpShare * measures.EnergyJ(run), level);
        double? waitingW = _stages.WaitingW(earliest, from);
        var (last, stair) = _stairs.LastOf(pieces, LastOfFall(pieces, level, waitingW), options.NoLoadPowerW ?? waitingW);
        if (stair is { } open)
        {
            OpenStairs.Add(open);
        }

        int to = pieces[last].To;
        var bursts = new List<SegmentRun>();
        for (int p = last + 1; p < pieces.Count; p++)
        {
            AddBursts(bursts, pieces[p]);
        }

        return (new SegmentRun(from, to), bursts);
    }

    /// <summary>Whether power is low beside a charge of the given level and does not fall.</summary>
    public bool IsIdle(in PowerSegment s, double chargeW) => _falls.IsIdle(s, chargeW);

    /// <summary>Last piece of the last fall; where nothing falls, the last that is not low; the first where there is none.</summary>
    private int LastOfFall(List<BasePiece> pieces, double chargeW, double? waitingW)
    {
        var falls = _falls.Joined(pieces);

        // Flat and low is measured against where the last fall began, too: a long fall has a mean level of its own that says little.
        var levelW = new double[falls.Count];
        double highest = chargeW;
        for (int f = 0; f < falls.Count; f++)
        {
            levelW[f] = highest;
            highest = _falls.FallsWithin(falls[f].Line, chargeW)
                ? Math.Max(highest, Math.Min(falls[f].Line.FirstW, levels.PlateauW))
                : highest;
        }

        for (int f = falls.Count - 1; f >= 0; f--)
        {
            var (from, to, line) = falls[f];
            bool low = ChargeFalls.IsLow(line, levelW[f]);
            bool fallsOn = _falls.FallsWithin(line, chargeW) && _falls.FallsByItself(pieces, falls[f]);
            if (low && fallsOn && line.DropW < LeastLateFall * chargeW && FlatBefore(falls, f, chargeW) >= LongFlatS)
            {
                continue;
            }

            if (!low
                || (fallsOn
                && !_falls.ComesBack(pieces[to - 1].Core + 1, pieces[^1].To, line, from > 0
                ? segments[pieces[from - 1].Core].MeanW
                : line.FirstW)))
            {
                int last = StillHigh(pieces, _falls.StopOf(pieces, from, to, chargeW) - 1);
                bool fell = fallsOn && line.DropW >= LeastLateFall * chargeW;
                return low || fell || last + 1 != to ? last : _stages.LastOf(falls, f, chargeW, waitingW);
            }
        }

        return 0;
    }

    /// <summary>How long power was low and flat before a fall, counted back to the fall or the high time before it. [s]</summary>
    private double FlatBefore(List<JoinedPieces> falls, int index, double chargeW)
    {
        double flatS = 0;
        for (int f = index - 1; f >= 0 && IsIdle(falls[f].Line, chargeW); f--)
        {
            flatS += falls[f].Line.DurationS;
        }

        return flatS;
    }

    /// <summary>Adds short stretches after a fall that still lie near where it ended and clear of what comes later: a burst of the
    /// device's own load hid the fall in them.</summary>
    private int StillHigh(List<BasePiece> pieces, int last)
    {
        while (last + 2 < pieces.Count)
        {
            double before = segments[pieces[last].Core].LastW;
            var next = segments[pieces[last + 1].Core];
            double later = next.MeanW;
            for (int p = last + 2; p < pieces.Count && (p < last + 4 || segments[pieces[p].Core].StartS < next.EndS + ShortBurstS); p++)
            {
                later = Math.Min(later, segments[pieces[p].Core].MeanW);
            }

            double awayS = next.EndS - segments[pieces[last].Core].EndS;
            if (awayS > LongestHiddenS || next.MeanW < Math.Max(later + (0.6 * (before - later)), (1 - MostHiddenShare) * before)
                || before < later + (4 * levels.NoiseW))
            {
                break;
            }

            last++;
        }

        return last;
    }

    private void AddBursts(List<SegmentRun> bursts, BasePiece piece)
    {
        foreach (var (from, to) in new[] { (piece.From, piece.Core), (piece.Core + 1, piece.To) })
        {
            for (int i = from; i < to; i++)
            {
                int first = i;
                while (i < to && segments[i].MeanW >= BurstAbove * segments[piece.Core].MeanW)
                {
                    i++;
                }

                if (i > first)
                {
                    bursts.Add(new SegmentRun(first, i));
                }
            }
        }
    }
}
