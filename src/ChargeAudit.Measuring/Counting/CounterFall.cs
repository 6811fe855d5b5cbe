using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring.Counting;

/// <summary>
/// How power falls towards a line of a counter's band, and when that line begins. A fall can be hidden in a straight line only as long as
/// it leaves the line by less than the band is wide: power P that falls at a rate λ leaves it by P λ L²/8 after a time L. Pure.
/// </summary>
/// <param name="band">Band of the stretch from the start of the charge.</param>
/// <param name="lines">Its lines in a band of one step, in order.</param>
/// <param name="plateau">The last line of the charge's first part.</param>
internal sealed class CounterFall(CounterBand band, IReadOnlyList<CounterLine> lines, int plateau)
{
    /// <summary>What would leave the band by this many of its widths is level. [1]</summary>
    public const double ClearlyLevel = 5;

    /// <summary>The device was taken off where power falls to less than this share. [1]</summary>
    public const double TakenOff = 0.8;

    /// <summary>Least power to divide by. [W]</summary>
    public const double LeastW = 1e-4;

    /// <summary>A level lasts at least this long, over at least this many readings. [s], [1]</summary>
    public const double LeastLevelS = 120;
    private const int LeastReadings = 5;

    /// <summary>Lines at one level clearly do not fall where a fall would have taken off this logarithm in between. [1]</summary>
    private const double ClearFall = 0.5;

    /// <summary>How fast power falls is told from the last line that stood at least this many times higher. [1]</summary>
    private const double FallForRate = 1.4;

    /// <summary>So many lines of a fall tell its rate, to within these factors. [1]</summary>
    private const int LinesForRate = 3;
    private static readonly double[] RatesTried = [0.5, 1, 2];

    /// <summary>So many narrow lines between a level and the last line are a fall. [1]</summary>
    private const int LinesOfFall = 3;

    /// <summary>The second half of a level takes at least this share of what the first does. [1]</summary>
    private const double Halves = 0.85;

    /// <summary>Whether power goes on falling through a line: after the full device comes the waiting charger and nothing else, so power
    /// that still goes through several levels between a line and the last one is falling.</summary>
    public bool FallsOn(in CounterLine line)
    {
        double endS = line.EndS;
        double belowW = TakenOff * line.PowerW;
        double aboveW = lines[^1].MostW / TakenOff;
        return lines.Count(l => l.MiddleS > endS && l.PowerW < belowW && l.PowerW > aboveW) >= LinesOfFall
            || MeanW(line.MiddleS, line.EndS) < Halves * MeanW(line.StartS, line.MiddleS);
    }

    // Mean power by the narrow lines. [W]
    private double MeanW(double fromS, double toS) => PieceMean.Of(lines.Select(l => (l.StartS, l.EndS, l.PowerW)), fromS, toS);

    /// <summary>By how many widths of the band power would leave a line if it went on falling as before, or if it fell to the line's mean
    /// without a step. [1]</summary>
    public double Leaves(in CounterLine level, double steps)
    {
        // Few readings lie on one line whatever power does.
        if (level.LengthS < LeastLevelS || band.Readings(level) < LeastReadings)
        {
            return 0;
        }

        int before = Before(level);
        double falls = before > plateau ? FallRate(before) : 0;
        double fell = Rate(before, level);
        double rate = Math.Max(falls, fell);
        return Math.Max(level.EnergyJ * level.LengthS * rate / (8 * band.WidthJ(steps, level.PowerW)),
            ClearlyLevel * rate * level.ApartS / ClearFall);
    }

    // How fast power falls from one line to another, as a rate; the first part of a charge stays high to its end. [1/s]
    private double Rate(int before, in CounterLine line)
    {
        var from = lines[before];
        double awayS = line.MiddleS - (before == plateau ? Math.Min(from.EndS, line.StartS) : from.MiddleS);
        return from.PowerW > line.PowerW && awayS > 0 ? Math.Log(from.PowerW / Math.Max(line.PowerW, LeastW)) / awayS : 0;
    }

    // How fast power fell before, as a rate. [1/s]
    private double FallRate(int before)
    {
        var line = lines[before];
        int higher = before > 0 ? LastIndex(before - 1, l => l.PowerW >= FallForRate * line.PowerW) : -1;
        higher = Math.Max(higher, Math.Min(before, plateau));
        return Rate(higher, line);
    }

    // What a line's power has fallen to at a later time; a line has that of its middle. [W]
    private double FallenW(int before, double timeS) => before > plateau
        ? lines[before].PowerW * Math.Exp(-FallRate(before) * Math.Max(0, timeS - lines[before].MiddleS))
        : lines[before].PowerW;

    /// <summary>Up to when what comes before a line may be hidden in it. [s]</summary>
    public double LatestS(in CounterLine line)
    {
        var (timeS, u) = EndBefore(line, 1);
        return timeS + (Math.Sqrt(3) * u);
    }

    /// <summary>The border between a fall, or the charge's first part, and a line. [s]</summary>
    public (double TimeS, double UncertaintyS) EndBefore(in CounterLine line, double steps)
    {
        int before = Before(line);
        double rate = before - plateau >= LinesForRate ? FallRate(before) : 0;
        return Border(line, FallenW(before, line.StartS), rate, before > plateau, steps);
    }

    // The last of the narrow lines that begins before a line.
    private int Before(in CounterLine line)
    {
        int from = line.From;
        return LastIndex(lines.Count - 1, l => l.From < from);
    }

    /// <summary>Where a line begins: as early as the band lets it. The power before it may be hidden in it for longer: a step until it has
    /// left the band, a fall that meets the level and goes below it until it has left the band on the other side. [s]</summary>
    public (double TimeS, double UncertaintyS) Border(in CounterLine level, double beforeW, double rate, bool falls, double steps)
    {
        double earliestS = level.From > 0 ? band.TimeS(level.From - 1) : level.StartS;
        double widthJ = band.WidthJ(steps, Math.Max(beforeW, level.PowerW));
        double overW = beforeW - level.PowerW;
        double hiddenS = !falls ? widthJ / Math.Max(LeastW, Math.Abs(overW))
            : rate > 0 ? RatesTried.Max(r => HiddenS(overW, r * rate * beforeW, widthJ))
            : (2 + (2 * Math.Sqrt(2))) * widthJ / Math.Max(LeastW, Math.Abs(overW));
        double latestS = level.StartS + Math.Min(hiddenS, 0.5 * level.LengthS);
        return (0.5 * (earliestS + latestS), (latestS - earliestS) / Math.Sqrt(12));
    }

    // Until P t − R t²/2 leaves the band, P the power above the level and R its fall per second. The worst R, where nothing tells it, is
    // that which just stays within the band before it meets the level.
    private static double HiddenS(double overW, double fallWPerS, double widthJ)
    {
        double meets = (overW * overW) - (2 * fallWPerS * widthJ);
        return overW > 0 && meets > 0
            ? (overW - Math.Sqrt(meets)) / fallWPerS
            : (overW + Math.Sqrt((overW * overW) + (2 * fallWPerS * widthJ))) / fallWPerS;
    }

    private int LastIndex(int from, Func<CounterLine, bool> wanted)
    {
        int index = from;
        while (index >= 0 && !wanted(lines[index]))
        {
            index--;
        }

        return index;
    }
}
