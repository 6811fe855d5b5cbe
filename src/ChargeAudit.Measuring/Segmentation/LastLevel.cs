using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Ends a charge where its base first comes down to the level that the full device keeps. The base is what is drawn without the rises of
/// the device's own load: screen, top-ups, bursts. Each of these ends at the level again, so that what is drawn between them shows when the
/// charge was over, however often power rises. Pure. <i>Common practice, no source.</i>
/// </summary>
/// <param name="fine">The finest cells.</param>
/// <param name="refiner">Finds a border on them.</param>
/// <param name="intervalS">Usual interval between rows. [s]</param>
/// <param name="leastStepW">What readings may differ by at one power: their step, or their noise. [W]</param>
/// <param name="topUpShare">Rises after a charge hold no more than this share of its energy. [1]</param>
internal sealed class LastLevel(PowerSeries fine, BorderRefiner refiner, double intervalS, double leastStepW, double topUpShare)
{
    /// <summary>The base is the power that a fifth of the cells of a piece stay below; a piece is this long, or holds so many readings.
    /// [1], [s]</summary>
    private const double BaseShare = 0.2;
    private const double PieceS = 120;
    private const double PieceReadings = 8;

    /// <summary>A level is told by so many pieces. [1]</summary>
    private const int LeastPieces = 5;

    /// <summary>What lies within this share of the level is at it, or within what its own base goes up by, up to the greater share.
    /// [1]</summary>
    private const double AtLevelShare = 0.03;
    private const double MostAtLevelShare = 0.15;

    /// <summary>The level is low beside what the charge kept up, which all but a tenth of its pieces stay below. [1]</summary>
    private const double PlateauShare = 0.9;
    private const double MostOfPlateau = 0.4;

    /// <summary>An end is not moved by less. [s]</summary>
    private const double LeastMoveS = 300;

    /// <summary>At least this share of the time that the charge loses is at the level. [1]</summary>
    private const double LeastAtLevel = 0.3;

    /// <summary>What stays above this share of the plateau after an end, and loses this share of itself on the way down to the level
    /// without coming back by the last share of the way, is the charge's fall. [1]</summary>
    private const double HighAfter = 0.2;
    private const double LeastFall = 0.3;
    private const double MostComeBack = 0.25;

    /// <summary>The modes with the ends of their charges at the full device's level.</summary>
    public List<ModeSpan> Applied(IReadOnlyList<ModeSpan> modes)
    {
        var changed = new List<ModeSpan>(modes);
        for (int i = 0; i + 1 < changed.Count; i++)
        {
            if (changed[i].Mode == Mode.Charge && changed[i + 1].Mode == Mode.Maintenance
                && End(changed[i], changed[i + 1]) is { } end)
            {
                SpanRules.EndAt(changed, i, end);
            }
        }

        return changed;
    }

    private Border? End(ModeSpan charge, ModeSpan full)
    {
        int each = Math.Max(1, (int)Math.Ceiling(Math.Max(PieceS, PieceReadings * intervalS) / fine.WidthS));
        int first = fine.IndexAt(charge.StartS);
        double[] bases = Bases(first, Math.Min(fine.Count, fine.IndexAt(full.EndS)), each);
        int ended = Math.Min(bases.Length, (fine.IndexAt(charge.EndS) - first + each - 1) / each);
        if (ended < LeastPieces || bases.Length - ended < LeastPieces)
        {
            return null;
        }

        double[] kept = [.. bases[ended..].Order()];
        double levelW = kept[(int)(BaseShare * kept.Length)];
        double goesUpW = Math.Min(kept[kept.Length / 2] - levelW, MostAtLevelShare * levelW);
        double reachW = Math.Max(Math.Max(AtLevelShare * levelW, goesUpW), leastStepW);
        double plateauW = bases[..ended].Order().ElementAt((int)(PlateauShare * ended));
        if (levelW <= 0 || levelW + reachW > MostOfPlateau * plateauW)
        {
            return null;
        }

        int at = FirstAtLevel(bases, ended, levelW, reachW, each * fine.WidthS) ?? Later(bases, ended, levelW, reachW, plateauW) ?? -1;
        return at > 0 && BorderAt(first + ((at - 1) * each), each, levelW, reachW) is { } end
            && Math.Abs(end.TimeS - charge.EndS) > Math.Max(LeastMoveS, 2 * each * fine.WidthS)
            ? end
            : null;
    }

    private double[] Bases(int first, int end, int each)
    {
        var bases = new double[Math.Max(0, end - first) / each];
        for (int p = 0; p < bases.Length; p++)
        {
            double[] cells = fine.PowerW[(first + (p * each))..(first + ((p + 1) * each))];
            bases[p] = ArrayStatistics.OrderStatisticInplace(cells, (int)(BaseShare * each) + 1);
        }

        return bases;
    }

    // Back from the end of the charge over rises no longer than a burst, as far as the base comes back to the level between them.
    private int? FirstAtLevel(double[] bases, int ended, double levelW, double reachW, double pieceS)
    {
        int? earliest = null;
        int atLevel = 0;
        double aboveJ = 0, runS = 0;
        double mostJ = topUpShare * bases[..ended].Sum() * pieceS;
        for (int p = ended - 1; p > 0 && runS <= ChargeTrimmer.ShortBurstS && aboveJ <= mostJ && bases[p] >= levelW - (2 * reachW); p--)
        {
            if (bases[p] > levelW + reachW)
            {
                runS += pieceS;
                aboveJ += (bases[p] - levelW) * pieceS;
                continue;
            }

            atLevel++;
            runS = 0;
            earliest = atLevel >= LeastAtLevel * (ended - p) ? p : earliest;
        }

        return earliest;
    }

    // What was taken for the full device is high and falls: it is the charge's until it comes down to the level.
    private static int? Later(double[] bases, int ended, double levelW, double reachW, double plateauW)
    {
        double startW = Math.Min(bases[ended], bases[Math.Min(ended + 1, bases.Length - 1)]);
        int at = Array.FindIndex(bases, ended, b => b <= levelW + reachW);
        if (startW < HighAfter * plateauW || at <= ended || bases.Length - at < LeastPieces || startW - bases[at - 1] < LeastFall * startW)
        {
            return null;
        }

        double least = double.PositiveInfinity;
        for (int p = ended; p < at; p++)
        {
            if (bases[p] - least > MostComeBack * (startW - levelW))
            {
                return null;
            }

            least = Math.Min(least, bases[p]);
        }

        return at;
    }

    // Within two pieces, the first cell at the level; how long the fall still took tells how certain that is.
    private Border BorderAt(int from, int each, double levelW, double reachW)
    {
        int to = Math.Min(fine.Count, from + (2 * each));
        int FirstBelow(double powerW) => Math.Max(from, Array.FindIndex(fine.PowerW, from, to - from, p => p <= powerW));
        int at = FirstBelow(levelW + reachW);
        double timeS = fine.StartS[at];
        double near = Math.Max(intervalS, fine.WidthS);
        var refined = refiner.Refine(timeS - (0.5 * each * fine.WidthS), timeS + (0.5 * each * fine.WidthS), timeS, rises: false);
        double hiddenS = timeS - fine.StartS[FirstBelow(levelW + (3 * reachW))];
        var border = Math.Abs(refined.TimeS - timeS) <= 2 * near ? refined : new Border(timeS, near / Math.Sqrt(12));
        return border with { UncertaintyS = Math.Sqrt((border.UncertaintyS * border.UncertaintyS) + (hiddenS * hiddenS / 3)) };
    }
}
