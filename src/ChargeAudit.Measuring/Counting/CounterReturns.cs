namespace ChargeAudit.Measuring.Counting;

/// <summary>
/// Where a full device first stood at its level. Whatever it is used for, and whatever tops it up, it comes back to that level; a fall
/// passes each power once. Pure.
/// </summary>
/// <param name="band">Band of the stretch from the start of the charge.</param>
/// <param name="lines">Its lines in a band of one step, in order.</param>
/// <param name="plateau">The last line of the charge's first part.</param>
internal sealed class CounterReturns(CounterBand band, IReadOnlyList<CounterLine> lines, int plateau)
{
    /// <summary>A line over so many readings tells its power, and one that leaves less room than this share. [1]</summary>
    private const int LeastReadings = 3;
    private const double Sharp = 0.1;

    /// <summary>A level that is come back to so often is no part of a fall. [1]</summary>
    private const int LeastTimes = 2;

    /// <summary>What rises above the level holds no more than this share of the charge's energy. [1]</summary>
    private const double MostRises = 0.08;

    /// <summary>Power above the level for longer than this may be the charge's, unless it is flat: such lines between two times at the
    /// level differ by no more than this factor. [s], [1]</summary>
    private const double LongRiseS = 300;
    private const double Flat = 1.1;

    /// <summary>The first line of the level that the lines from one on stand at, at or before that line.</summary>
    /// <param name="from">A line at the level.</param>
    /// <param name="levelW">The level. [W]</param>
    /// <param name="mostW">The greatest that it may be. [W]</param>
    public (int Line, int Times) First(int from, double levelW, double mostW)
    {
        double leftJ = MostRises * lines.Take(from).Sum(l => l.EnergyJ);
        var (first, times, isBack) = (from, 1, true);
        double riseW = 0;
        for (int i = from - 1; i > plateau; i--)
        {
            var line = lines[i];
            if (Tells(line) && line.PowerW <= levelW / CounterFall.TakenOff)
            {
                // Without a rise in between it may be the end of the fall.
                if (line.PowerW < CounterFall.TakenOff * levelW || (isBack && line.LeastW > Flat * mostW))
                {
                    break;
                }

                times += isBack ? 0 : 1;
                (first, isBack) = (i, true);
                continue;
            }

            leftJ -= (line.PowerW - levelW) * line.LengthS;
            bool isLong = line.LengthS > LongRiseS;
            riseW = isBack ? 0 : riseW;
            if (leftJ < 0 || (isLong && riseW > 0 && Math.Max(line.PowerW, riseW) > Flat * Math.Min(line.PowerW, riseW)))
            {
                break;
            }

            (isBack, riseW) = (false, isLong ? line.PowerW : riseW);
        }

        return (first, times);
    }

    /// <summary>The level that the last lines come back to again and again; null where there is none.</summary>
    /// <param name="to">The line after the last one.</param>
    public CounterLine? Level(int to)
    {
        if (to <= plateau + 1 || Lowest(lines[plateau + 1].StartS, lines[to - 1].EndS) is not var (lowest, levelW))
        {
            return null;
        }

        int last = to - 1;
        while (lines[last].PowerW > levelW / CounterFall.TakenOff)
        {
            last--;
        }

        var (first, times) = First(last, levelW, lines[lowest].MostW);
        return times < LeastTimes ? null : new CounterLine(lines[first].From, lines[last].To, lines[first].StartS, lines[last].EndS,
            levelW, lines[lowest].MostW)
        { LeastW = lines[lowest].LeastW };
    }

    /// <summary>The lowest power of the lines in a stretch that tell theirs; null where none does. [W]</summary>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public (int Line, double PowerW)? Lowest(double fromS, double toS)
    {
        int lowest = -1;
        for (int i = plateau + 1; i < lines.Count; i++)
        {
            if (lines[i].StartS >= fromS && lines[i].EndS <= toS && Tells(lines[i])
                && (lowest < 0 || lines[i].PowerW < lines[lowest].PowerW))
            {
                lowest = i;
            }
        }

        return lowest < 0 ? null : (lowest, lines[lowest].PowerW);
    }

    /// <summary>Whether a line is long enough to tell its power.</summary>
    public bool Tells(in CounterLine line) => line.LengthS >= CounterFall.LeastLevelS
        && (band.Readings(line) >= LeastReadings || line.MostW - line.LeastW < Sharp * line.PowerW);
}
