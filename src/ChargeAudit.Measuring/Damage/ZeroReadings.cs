using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Rows of exactly zero in the middle of a charge that are not a pause: either the voltage is zero as well, without which there is nothing
/// to charge from, or this meter never reads exactly zero elsewhere, though the charger is idle there. A pause keeps the voltage and reads
/// as the idle charger does.
/// </summary>
internal static class ZeroReadings
{
    private const int LeastRows = 3;
    private const double LongestS = 1800;
    private const double AlikeLevels = 3;
    private const double LeastChargeW = 1;
    private const double ShareOfCharge = 0.25;
    private const double IdleShare = 0.3;
    private const int LeastIdle = 5;
    private const double ClearSteps = 2.001;
    private const double SameShare = 1e-9;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules, LogLayout layout)
    {
        var all = Runs(cells).ToList();
        if (all.Count == 0)
        {
            yield break;
        }

        double shiftS = StampShift.Of(rules);
        double chargesW = Math.Max(LeastChargeW, ShareOfCharge * AbsurdReadings.KeptUpW(cells));
        bool holds = rules.Samples == SampleKind.OnChange;
        double longestS = Math.Max(LongestS, 3.5 * rules.MedianIntervalS);
        double LengthS((int From, int To) run) => (holds ? cells[run.To + 1].FromS : cells[run.To].ToS) - cells[run.From].FromS;
        var runs = all.Where(r => IsInCharge(cells, r, chargesW) && LengthS(r) <= longestS).ToList();
        var stepW = new Lazy<double>(() => StepW(cells));
        foreach (var (from, to) in runs)
        {
            double before = Level(cells, from - 1, -1);
            double after = Level(cells, to + 1, 1);
            double level = Math.Min(before, after);
            double lengthS = LengthS((from, to));
            bool dead = layout.Has(LogQuantity.Voltage) && to - from + 1 >= LeastRows && cells[(from + 1)..to].All(c => c.VoltSeconds == 0)
                && cells[from - 2].VoltSeconds > 0;
            if (dead || IdleIsNeverZero(cells, runs, IdleShare * level, stepW))
            {
                // A row of zero may share a cell with the last or the next good one.
                double firstS = cells[cells[from - 1].MinW == 0 ? from - 1 : from].FromS,
                    lastS = cells[cells[to + 1].MinW == 0 ? to + 1 : to].ToS;
                yield return new MarkedStretch(firstS + shiftS, lastS + shiftS, FaultKind.ZeroReadings,
                    Prose.Of(
                        $"power reads exactly 0 for {lengthS:F0} s between readings of {before:G4} W and {after:G4} W, "
                    + $"{(dead ? "and the voltage as well" : "where this meter never reads an idle charger as 0")}: no pause; the rows "
                    + $"were left out, as in a gap"))
                {
                    AtMostW = 0,

                    // Too short for a gap: then the bridge between its ends is all that there is.
                    HiddenJ = holds || lengthS + rules.MedianIntervalS <= rules.GapThresholdS
                        ? level * (lengthS + rules.MedianIntervalS)
                        : 0,
                };
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

            if (to > from && from >= 5 && to + 5 <= cells.Length)
            {
                yield return (from, to - 1);
            }

            from = Math.Max(to, from + 1);
        }
    }

    private static bool IsInCharge(ReadingCell[] cells, (int From, int To) run, double chargesW)
    {
        double before = Level(cells, run.From - 1, -1), after = Level(cells, run.To + 1, 1);
        double level = Math.Min(before, after);
        return level > chargesW && Math.Max(before, after) < AlikeLevels * level;
    }

    // The middle one of five readings beside the run.
    private static double Level(ReadingCell[] cells, int from, int direction) =>
        Enumerable.Range(0, 5).Select(i => cells[from + (i * direction)].MiddleW).Order().ElementAt(2);

    // What lies within a few steps of zero may be rounded to zero in a pause that takes a little less.
    private static bool IdleIsNeverZero(ReadingCell[] cells, List<(int From, int To)> runs, double idleBelowW, Lazy<double> stepW)
    {
        var idleW = new List<double>();
        int next = 0;
        for (int i = 0; i < cells.Length; i++)
        {
            if (next < runs.Count && i >= runs[next].From)
            {
                i = runs[next++].To;
                continue;
            }

            // Beside a run a cell may hold a row of it.
            bool beside = (next < runs.Count && i + 1 == runs[next].From) || (next > 0 && i == runs[next - 1].To + 1);
            if (!beside && (cells[i].MinW == 0 || cells[i].MaxW == 0))
            {
                return false;
            }

            if (Math.Abs(cells[i].MaxW) < idleBelowW)
            {
                idleW.Add(Math.Abs(cells[i].MaxW));
            }
        }

        return idleW.Count >= LeastIdle && idleW.LowerQuartile() > ClearSteps * stepW.Value;
    }

    // The least that two of the readings differ by.
    private static double StepW(ReadingCell[] cells)
    {
        double[] values = [.. cells.Select(c => c.MaxW).Order()];
        double least = double.PositiveInfinity;
        for (int i = 1; i < values.Length; i++)
        {
            double apart = values[i] - values[i - 1];
            least = apart > SameShare * Math.Abs(values[i]) ? Math.Min(least, apart) : least;
        }

        return double.IsFinite(least) ? least : 0;
    }
}
