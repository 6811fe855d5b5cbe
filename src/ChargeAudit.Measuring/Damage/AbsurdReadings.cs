using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Up to three readings that stand alone. What a log keeps up is the greatest value that the middle of seven neighbouring readings reaches:
/// a glitch of three rows cannot raise it. Far above is what exceeds three times that, and 18 W: pulses of a waiting pad and the inrush
/// current at plugging in stay below. Between readings that agree within 30 % or fall all the way, and are a charge's, one and a half times
/// what the log keeps up is enough, as a charger gives no more than its most; there the interval reaches to the reading as well. A mean
/// over a row is no pulse and no inrush, so among means the same holds beside a waiting charger and a full device. A counter that advanced
/// by what a reading says bears it out, and it stays.
/// </summary>
internal static class AbsurdReadings
{
    private const double TimesKeptUp = 3;
    private const double LeastKeptUpW = 6;
    private const int Window = 7;
    private const int LeastCells = 20;
    private const int FewestCells = 6;
    private const int MostRows = 3;

    // A cell that holds the energy of more rows than this at its greatest reading holds a burst, however short.
    private const double RowsOfAGlitch = 2.5;

    private const double AboveNeighbours = 1.5;
    private const double AlikeNeighbours = 1.3;
    private const double LeastNeighbourW = 1;

    // In a fall a reading may stand above the one before by so much.
    private const double Falling = 1.1;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules, CounterBeside? counter)
    {
        if (cells.Length < FewestCells)
        {
            yield break;
        }

        // Among few rows, as of a log written on change, each may be all that there is of a charge: but one far above every other is none.
        bool few = cells.Length < LeastCells;
        double keptUpW = few ? cells.Select(c => c.MaxW).OrderDescending().ElementAt(1) : KeptUpW(cells);
        double limitW = TimesKeptUp * Math.Max(keptUpW, LeastKeptUpW);
        double shiftS = StampShift.Of(rules);
        for (int i = 0; i < cells.Length; i++)
        {
            var cell = cells[i];
            if (cell.MaxW > limitW)
            {
                // Written on change, one reading is held for as long as nothing else is written.
                bool held = rules.Samples == SampleKind.OnChange && cell.Readings == 1;
                double rows = Math.Max(0, cell.MeanW) * (cell.ToS - cell.FromS) / (cell.MaxW * rules.MedianIntervalS);
                if ((held || !(rows > RowsOfAGlitch)) && !BornOut(cells, i, i, keptUpW, rules, counter))
                {
                    // Between the rows beside it anything may have flowed from nothing to what the log keeps up.
                    yield return new MarkedStretch(cell.FromS + shiftS, cell.ToS + shiftS, FaultKind.Implausible,
                        Prose.Of(
                            $"readings of up to {cell.MaxW:G5} W stand alone in a log that never stays above {keptUpW:G4} W; they were "
                        + $"left out"))
                    {
                        AboveW = limitW,
                        HiddenJ = Math.Max(keptUpW, 0)
                            * Math.Max(2 * rules.MedianIntervalS, held && i + 1 < cells.Length ? cells[i + 1].FromS - cell.FromS : 0),
                    };
                }
            }
            else if ((!few || rules.Samples == SampleKind.OnChange) && AmongAlike(cells, i, keptUpW, rules, few) is var last && last >= i)
            {
                double levelW = 0.5 * (cells[i - 1].MiddleW + cells[last + 1].MiddleW);
                if (!BornOut(cells, i, last, levelW, rules, counter))
                {
                    yield return Between(cells, i, last, levelW, keptUpW, rules);
                }

                i = last;
            }
        }
    }

    private static MarkedStretch Between(ReadingCell[] cells, int from, int to, double levelW, double keptUpW, SummaryRules rules)
    {
        double shiftS = StampShift.Of(rules);
        double mostW = cells[from..(to + 1)].Max(c => c.MaxW);
        double lengthS = rules.Samples == SampleKind.OnChange
            ? cells[to + 1].FromS - cells[from].FromS
            : 0.5 * (cells[to + 1].FromS - cells[from - 1].FromS + cells[to].FromS - cells[from].FromS);
        double hiddenJ = (mostW - levelW) * lengthS;
        return new MarkedStretch(cells[from].FromS + shiftS, cells[to].ToS + shiftS, FaultKind.Implausible,
            Prose.Of(
                $"readings of up to {mostW:G5} W stand alone between readings of about {levelW:G4} W, in a log that never stays above "
                    + $"{keptUpW:G4} W; they were left out, and the interval reaches to them"))
        {
            AboveW = 0.5 * (1 + AboveNeighbours) * keptUpW,
            HiddenJ = hiddenJ / 0.9,
        };
    }

    // The last of up to three readings from a place on that stand above others which agree on both sides, or fall all the way; below the
    // place where there are none.
    private static int AmongAlike(ReadingCell[] cells, int from, double keptUpW, SummaryRules rules, bool few)
    {
        double above = AboveNeighbours * Math.Max(keptUpW, LeastKeptUpW);
        if (!(cells[from].MaxW > above) || cells[from].Readings > 1)
        {
            return -1;
        }

        int to = from;
        while (to + 1 < cells.Length && to - from < MostRows && cells[to + 1].MaxW > above)
        {
            to++;
        }

        if (to - from >= MostRows || from < 2 || to + 2 >= cells.Length)
        {
            return -1;
        }

        Span<double> beside = [cells[from - 2].MiddleW, cells[from - 1].MiddleW, cells[to + 1].MiddleW, cells[to + 2].MiddleW];
        bool falls = beside[1] < Falling * beside[0] && beside[2] < beside[1] && beside[3] < Falling * beside[2];
        double least = Math.Min(beside[2], Math.Min(beside[0], beside[1]));
        beside.Sort();

        // Of few rows any may be all that there is of a stronger charge, but not in a fall.
        bool means = rules.Samples is SampleKind.AverageEnding or SampleKind.AverageStarting;
        bool isCharge = !few && beside[0] > LeastNeighbourW;

        // A charge of few rows may be all above what the log keeps up.
        for (int i = from; i <= to; i++)
        {
            if (!(cells[i].MaxW > AboveNeighbours * beside[3]))
            {
                return -1;
            }
        }

        return (isCharge && beside[3] < AlikeNeighbours * beside[0]) || (falls && least > LeastNeighbourW)
            || (means && beside[3] < LeastNeighbourW) ? to : -1;
    }

    /// <summary>Whether the counter advanced by more than half of what readings say above the level beside them.</summary>
    public static bool BornOut(ReadingCell[] cells, int from, int to, double levelW, SummaryRules rules, CounterBeside? counter)
    {
        if (counter is null || from == 0 || to + 1 == cells.Length)
        {
            return false;
        }

        double fromS = cells[from].FromS - rules.MedianIntervalS, toS = cells[to].ToS + rules.MedianIntervalS;
        double aboveJ = (cells[from..(to + 1)].Max(c => c.MaxW) - levelW) * (to - from + 1) * rules.MedianIntervalS;
        return aboveJ > 4 * counter.StepJ && counter.AdvanceJ(fromS, toS) - (Math.Max(levelW, 0) * (toS - fromS)) > 0.5 * aboveJ;
    }

    /// <summary>The greatest value that the middle one of seven neighbours reaches. [W]</summary>
    public static double KeptUpW(ReadingCell[] cells)
    {
        double greatest = double.NegativeInfinity;
        Span<double> near = stackalloc double[Window];
        int above = 0;
        for (int i = 0; i < cells.Length; i++)
        {
            // How many of the last seven are above: what comes in, less what goes out.
            above += cells[i].MaxW > greatest ? 1 : 0;
            above -= i >= Window && cells[i - Window].MaxW > greatest ? 1 : 0;
            if (i + 1 < Window || above <= Window / 2)
            {
                continue;
            }

            var window = cells.AsSpan(i + 1 - Window, Window);
            for (int j = 0; j < Window; j++)
            {
                near[j] = window[j].MaxW;
            }

            near.Sort();
            greatest = Math.Max(greatest, near[Window / 2]);
            above = 0;
            foreach (ref readonly var cell in window)
            {
                above += cell.MaxW > greatest ? 1 : 0;
            }
        }

        return greatest;
    }
}
