using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Ends a charge where a fall that only a few rows show has come down to the level behind it. So few rows are no stretch of their own, and
/// the end found before lies anywhere among them. Pure. <i>Common practice, no source.</i>
/// </summary>
/// <param name="fine">The finest cells.</param>
/// <param name="intervalS">Usual interval between rows. [s]</param>
/// <param name="noiseW">Scatter of a reading where the log is quietest. [W]</param>
/// <param name="stepW">Step of the readings. [W]</param>
internal sealed class FallOfFewRows(PowerSeries fine, double intervalS, double noiseW, double stepW)
{
    /// <summary>With more rows the fall shows as stretches of its own. [1]</summary>
    private const double MostRows = 40;

    /// <summary>Less than this beyond the end found is the row in which power steps down. [1]</summary>
    private const double LeastRows = 1.25;

    /// <summary>The fall has arrived where it loses no more than this share of what the charge kept up, this share of itself, or this
    /// multiple of the scatter. [1]</summary>
    private const double ArrivedShare = 0.005;
    private const double OwnShare = 0.05;
    private const double ArrivedByScatter = 4;

    /// <summary>What a charge kept up, all but a tenth of it stays below; a fall starts this share of the way up to it, and the level
    /// behind is no more than the last share of it. [1]</summary>
    private const double PlateauShare = 0.9;
    private const double FallStarts = 0.8;
    private const double MostLevel = 0.5;

    /// <summary>Where power scatters, a fall comes back by no more than this share of where it stands. [1]</summary>
    private const double MostComeBack = 0.1;

    /// <summary>A level of its own lasts so many rows. [1]</summary>
    private const double FlatRows = 4;

    /// <summary>A fall goes on as it came; what lies lower than so, by this share of the fall, has stepped down. [1]</summary>
    private const double StepShare = 0.1;

    /// <summary>The modes with the ends of such falls.</summary>
    public List<ModeSpan> Applied(IReadOnlyList<ModeSpan> modes)
    {
        var changed = new List<ModeSpan>(modes);
        for (int i = 0; i + 1 < changed.Count; i++)
        {
            int next = changed.FindIndex(i + 1, m => m.Mode == Mode.Charge);
            double untilS = next < 0 ? changed[^1].EndS : changed[next].StartS;
            if (changed[i].Mode == Mode.Charge && next != i + 1 && End(changed[i], untilS) is { } end && end.TimeS < untilS)
            {
                changed.RemoveAll(m => m.Mode != Mode.Charge && m.StartS >= changed[i].EndS && m.EndS <= end.TimeS);
                SpanRules.EndAt(changed, i, end);
            }
        }

        return changed;
    }

    private Border? End(ModeSpan charge, double untilS)
    {
        int start = fine.IndexAt(charge.StartS), ended = fine.IndexAt(charge.EndS), to = Math.Min(fine.Count, fine.IndexAt(untilS));
        double cellsPerRow = Math.Max(1, intervalS / fine.WidthS);
        int flatCells = (int)Math.Ceiling(FlatRows * cellsPerRow);
        if (ended - start < 2 || to - ended < flatCells)
        {
            return null;
        }

        double plateauW = ArrayStatistics.OrderStatisticInplace(fine.PowerW[start..ended], (int)(PlateauShare * (ended - start)) + 1);
        if (LevelFrom(ended, to, flatCells, plateauW) is not { } level || fine.StartS[level] - charge.EndS < LeastRows * intervalS)
        {
            return null;
        }

        double levelW = fine.MedianW(level, level + flatCells);
        int begun = Array.FindLastIndex(fine.PowerW, level, level - start + 1, p => p >= levelW + (FallStarts * (plateauW - levelW)));
        return fine.StartS[level] - fine.StartS[Math.Max(begun, start)] > MostRows * intervalS
            ? null
            : Arrival(level - 1, cellsPerRow, levelW, plateauW);
    }

    // The first cell from which on power is low and does not fall for some rows; null where it comes back on its way there.
    private int? LevelFrom(int ended, int to, int flatCells, double plateauW)
    {
        for (int at = ended; at + flatCells <= to; at++)
        {
            double powerW = fine.PowerW[at], reachW = ReachW(plateauW, powerW);
            if (at > ended && powerW > fine.PowerW[at - 1] + Math.Max(reachW, MostComeBack * powerW))
            {
                return null;
            }

            if (powerW <= MostLevel * plateauW && powerW - fine.MedianW(at + 1, at + flatCells) <= reachW)
            {
                return at;
            }
        }

        return null;
    }

    private double ReachW(double plateauW, double powerW) =>
        Math.Max(Math.Max(ArrivedShare * plateauW, OwnShare * powerW), Math.Max(stepW, ArrivedByScatter * noiseW));

    // Where the fall would have gone on, it stepped down between two rows, and the end lies between them.
    private Border Arrival(int last, double cellsPerRow, double levelW, double plateauW)
    {
        int row = (int)Math.Ceiling(cellsPerRow);
        double HeightW(int cell) => Math.Max(0, fine.PowerW[Math.Max(0, cell)] - levelW);
        double near = Math.Max(intervalS, fine.WidthS);
        double before = HeightW(last - (2 * row)), then = HeightW(last - row);
        double expected = before > 0 ? then * Math.Min(1, then / before) : 0;
        double reachW = ReachW(plateauW, levelW);
        if (expected - HeightW(last) > Math.Max(StepShare * (plateauW - levelW), 2 * reachW))
        {
            return new Border(fine.EndS(last) - (0.5 * near), near / Math.Sqrt(12));
        }

        // How long the fall took lately tells how long it may go on where it no longer shows.
        int clear = Array.FindLastIndex(fine.PowerW, last, last + 1, p => p > levelW + (3 * reachW));
        double hiddenS = fine.EndS(last) - fine.EndS(Math.Max(0, clear));
        return new Border(fine.EndS(last), Math.Sqrt((near * near / 12) + (hiddenS * hiddenS / 3)));
    }
}
