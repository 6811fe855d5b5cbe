using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Rows of zeros in the middle of a charge that are no pause: power is the same before and after, and either the voltage is zero as well, without which there is nothing to charge
/// from, or the log elsewhere shows that this meter reads an idle charger as more than zero. A pause keeps the voltage and reads as the charger's idle power does.
/// </summary>
internal static class ZeroReadings
{
    private const int LeastRows = 3;
    private const double LongestS = 1800;
    private const double SameLevel = 0.2;
    private const double LeastChargeW = 1;
    private const double IdleShare = 0.1;
    private const int LeastIdle = 20;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules, LogLayout layout)
    {
        if (rules.Samples == SampleKind.OnChange)
        {
            yield break;
        }

        var runs = Runs(cells).ToList();
        if (runs.Count == 0)
        {
            yield break;
        }

        double shiftS = StampShift.Of(rules);
        foreach (var (from, to) in runs)
        {
            double before = Level(cells, from - 1, -1);
            double after = Level(cells, to + 1, 1);
            double level = Math.Min(before, after);
            if (!(level > LeastChargeW && Math.Abs(before - after) < SameLevel * level) || cells[to].ToS - cells[from].FromS > LongestS)
            {
                continue;
            }

            bool dead = layout.Has(LogQuantity.Voltage) && from + 1 < to && cells[(from + 1)..to].All(c => c.VoltSeconds == 0) && cells[from - 2].VoltSeconds > 0;
            if (dead || IdleReadsAboveZero(cells, runs, IdleShare * level))
            {
                yield return new MarkedStretch(cells[from].FromS + shiftS, cells[to].ToS + shiftS, FaultKind.ZeroReadings, string.Create(
                    CultureInfo.InvariantCulture,
                    $"power reads exactly 0 for {cells[to].ToS - cells[from].FromS:F0} s between readings of {before:G4} W and {after:G4} W, {(dead ? "and the voltage as well" : "where this meter reads an idle charger as more than zero")}: no pause; the rows were left out, as in a gap"));
            }
        }
    }

    private static IEnumerable<(int From, int To)> Runs(ReadingCell[] cells)
    {
        for (int from = 0; from < cells.Length;)
        {
            int to = from;
            while (to < cells.Length && cells[to].MinW == 0 && cells[to].MaxW == 0)
            {
                to++;
            }

            if (to - from >= LeastRows && from >= 5 && to + 5 <= cells.Length)
            {
                yield return (from, to - 1);
            }

            from = Math.Max(to, from + 1);
        }
    }

    // The middle one of five readings beside the run.
    private static double Level(ReadingCell[] cells, int from, int direction) =>
        Enumerable.Range(0, 5).Select(i => cells[from + (i * direction)].MiddleW).Order().ElementAt(2);

    private static bool IdleReadsAboveZero(ReadingCell[] cells, List<(int From, int To)> runs, double idleBelowW)
    {
        int idle = 0;
        int next = 0;
        for (int i = 0; i < cells.Length; i++)
        {
            if (next < runs.Count && i >= runs[next].From)
            {
                i = runs[next++].To;
                continue;
            }

            if (cells[i].MinW <= 0)
            {
                return false;
            }

            idle += cells[i].MaxW < idleBelowW ? 1 : 0;
        }

        return idle >= LeastIdle;
    }
}
