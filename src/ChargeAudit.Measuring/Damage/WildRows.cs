using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Several readings in a row that cannot be true: in a charge whose power hardly moves from row to row, some rows leap to one and
/// a half times what stands on either side and beyond, jump about there from row to row, and leap back. A load that rises for a while
/// does not scatter so. Pure functions.
/// </summary>
internal static class WildRows
{
    private const int LeastRows = 2;
    private const int FewRows = 5;
    private const int MostRows = 30;
    private const double MostShare = 0.02;
    private const int LeastCells = 60;
    private const double LeastW = 1;
    private const double Above = 1.5;
    private const double Alike = 1.1;

    // Of their value: how little power moves from row to row elsewhere, and how much it does in such rows.
    private const double MostMove = 0.02;
    private const double LeastJump = 0.1;
    private const double JumpsShare = 0.6;

    /// <summary>The stretches of such rows.</summary>
    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules, CounterBeside? counter)
    {
        if (rules.Samples == Logs.SampleKind.OnChange || cells.Length < LeastCells)
        {
            yield break;
        }

        int most = -1;
        for (int i = 2; i + LeastRows + 2 <= cells.Length; i++)
        {
            double levelW = cells[i - 1].MiddleW;
            if (!(levelW > LeastW && cells[i].MinW > Above * levelW))
            {
                continue;
            }

            most = most < 0 ? Most(cells) : most;
            int to = i;
            while (to + 1 < cells.Length && to - i < most && cells[to + 1].MinW > Above * levelW)
            {
                to++;
            }

            if (to - i + 1 >= LeastRows && to - i < most && to + 2 < cells.Length && IsWild(cells, i, to, levelW)
                && !AbsurdReadings.BornOut(cells, i, to, levelW, rules, counter))
            {
                yield return Mark(cells, i, to, levelW, rules);
            }

            i = to;
        }
    }

    // Rows that such a run may have; none where power moves by itself.
    private static int Most(ReadingCell[] cells)
    {
        var moves = new List<double>();
        for (int i = 1; i < cells.Length; i++)
        {
            if (Math.Min(cells[i].MiddleW, cells[i - 1].MiddleW) > LeastW)
            {
                moves.Add(Math.Abs(cells[i].MiddleW - cells[i - 1].MiddleW) / cells[i].MiddleW);
            }
        }

        return moves.Count > LeastCells && HighMedian.Of([.. moves]) < MostMove
            ? Math.Clamp((int)(MostShare * moves.Count), FewRows, MostRows)
            : 0;
    }

    private static bool IsWild(ReadingCell[] cells, int from, int to, double levelW)
    {
        double[] beside = [cells[from - 2].MiddleW, levelW, cells[to + 1].MiddleW, cells[to + 2].MiddleW];
        int jumps = 0;
        for (int i = from + 1; i <= to; i++)
        {
            jumps += Math.Abs(cells[i].MiddleW - cells[i - 1].MiddleW) > LeastJump * cells[i].MiddleW ? 1 : 0;
        }

        return beside.Max() < Alike * beside.Min() && jumps >= JumpsShare * (to - from);
    }

    private static MarkedStretch Mark(ReadingCell[] cells, int from, int to, double levelW, SummaryRules rules)
    {
        double shiftS = StampShift.Of(rules);
        double aboveJ = 0;
        for (int i = from; i <= to; i++)
        {
            aboveJ += Math.Max(cells[i].MaxW - levelW, 0) * Math.Max(rules.MedianIntervalS, cells[i].ToS - cells[i].FromS);
        }

        return new MarkedStretch(cells[from].FromS + shiftS, cells[to].ToS + shiftS, FaultKind.Implausible,
            Prose.Of(
                $"{to - from + 1} readings in a row jump about between {cells[from..(to + 1)].Min(c => c.MinW):G5} W and "
                    + $"{cells[from..(to + 1)].Max(c => c.MaxW):G5} W, where power stays at {levelW:G4} W on either side; they were left "
                    + $"out, and the interval reaches to them"))
        {
            AboveW = 0.5 * (1 + Above) * levelW,
            HiddenJ = aboveJ / 0.9,
        };
    }
}
