using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Readings below zero for a while in a charge that goes on: no power flows back between two rows of a charge, so the rows say nothing of
/// their time, and are left out as in a gap. Pure functions.
/// </summary>
internal static class NegativeReadings
{
    private const double LongestS = 1800;
    private const double LeastChargeW = 1;
    private const double ShareOfCharge = 0.25;
    private const double Alike = 3;

    /// <summary>The stretches of such rows.</summary>
    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules)
    {
        double chargesW = double.NaN;
        for (int from = 2; from + 2 < cells.Length; from++)
        {
            int to = from;
            while (to + 2 < cells.Length && cells[to].MaxW < rules.ReversedBelowW)
            {
                to++;
            }

            if (to == from)
            {
                continue;
            }

            // Of both sides the two readings next to it.
            double least = Math.Min(Math.Min(cells[from - 1].MinW, cells[from - 2].MinW), Math.Min(cells[to].MinW, cells[to + 1].MinW));
            double most = Math.Max(Math.Max(cells[from - 1].MaxW, cells[from - 2].MaxW), Math.Max(cells[to].MaxW, cells[to + 1].MaxW));
            chargesW = double.IsNaN(chargesW) ? Math.Max(LeastChargeW, ShareOfCharge * AbsurdReadings.KeptUpW(cells)) : chargesW;
            double lengthS = cells[to].FromS - cells[from].FromS;
            if (least > chargesW && most < Alike * least && lengthS <= Math.Max(LongestS, 3.5 * rules.MedianIntervalS))
            {
                yield return new MarkedStretch(cells[from].FromS + StampShift.Of(rules), cells[to - 1].ToS + StampShift.Of(rules),
                    FaultKind.Reversed, Prose.Of(
                        $"negative power for {lengthS:F0} s between readings of {cells[from - 1].MiddleW:G4} W and "
                            + $"{cells[to].MiddleW:G4} W: the rows were left out, as in a gap"))
                {
                    AtMostW = 0,
                    HiddenJ = lengthS + rules.MedianIntervalS <= rules.GapThresholdS ? least * (lengthS + rules.MedianIntervalS) : 0,
                };
            }

            from = to;
        }
    }
}
