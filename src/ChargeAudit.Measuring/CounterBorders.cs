using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring;

/// <summary>
/// Where a charge may end between two steps of a coarse counter. A step tells how much has flowed since the step before and not when, so
/// the step after a charge may hold its last energy, and the step before it its first. A step whose mean power is more than twice the
/// level after it (or before it), and which that level can have filled to a small part only, is the charge's, and the border lies half a
/// step beyond it, give or take half a step. Only where few steps are left: where there are many, power itself shows the level. Pure
/// functions.
/// </summary>
internal static class CounterBorders
{
    /// <summary>This many steps between a charge and the next one, or the end of the log, show a level by themselves. [1]</summary>
    private const int Many = 5;

    /// <summary>Above this many times the level beside it a step is another load's. [1]</summary>
    private const double Above = 2;

    /// <summary>A step of which the level beside the charge can have filled less than this part is the charge's. [1]</summary>
    private const double LeftForLevel = 0.25;

    /// <summary>The modes with the borders of charges moved; the same ones where nothing speaks for it.</summary>
    /// <param name="modes">The modes, in order, without holes.</param>
    /// <param name="summary">The finished summary.</param>
    /// <param name="knownS">Starts of charges that rows tell better than steps. [s]</param>
    public static IReadOnlyList<ModeSpan> Of(IReadOnlyList<ModeSpan> modes, LogSummary summary, IReadOnlySet<double> knownS)
    {
        double stepJ = summary.CounterStepJ;
        if (summary.Rules.Source != PowerSource.EnergyCounter || !(stepJ > 0) || summary.Counted.Count < 2)
        {
            return modes;
        }

        var steps = Steps(summary.Counted);
        var moved = new List<ModeSpan>(modes);
        for (int i = 0; i < moved.Count; i++)
        {
            if (moved[i].Mode != Mode.Charge)
            {
                continue;
            }

            double limitS = moved.Skip(i + 1).FirstOrDefault(m => m.Mode == Mode.Charge)?.StartS ?? summary.EndS;
            if (End(steps, moved[i].EndS, limitS, stepJ) is { } end)
            {
                SetEnd(moved, i, end);
            }

            int first = i;
            while (first > 0 && moved[first - 1].Mode != Mode.Charge)
            {
                first--;
            }

            if (first < i && !knownS.Contains(moved[i].StartS) && Start(steps, moved[i].StartS, moved[first].StartS, stepJ) is { } start)
            {
                i -= SetStart(moved, i, start);
            }
        }

        return moved;
    }

    /// <summary>Steps in a stretch. [1]</summary>
    /// <param name="counted">Readings with advances added up. [s, J]</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public static int StepsIn(IReadOnlyList<(double TimeS, double EnergyJ)> counted, double fromS, double toS) =>
        Steps(counted).Count(s => s.TimeS > fromS && s.TimeS < toS);

    // Times count from the middle between the readings around a step.
    private static List<(double TimeS, double EnergyJ)> Steps(IReadOnlyList<(double TimeS, double EnergyJ)> counted)
    {
        var steps = new List<(double, double)>();
        for (int i = 1; i < counted.Count; i++)
        {
            if (counted[i].EnergyJ > counted[i - 1].EnergyJ)
            {
                steps.Add((0.5 * (counted[i].TimeS + counted[i - 1].TimeS), counted[i].EnergyJ));
            }
        }

        return steps;
    }

    private static Border? End(List<(double TimeS, double EnergyJ)> steps, double endS, double limitS, double stepJ)
    {
        int last = steps.FindLastIndex(s => s.TimeS < limitS);
        int next = steps.FindIndex(s => s.TimeS > endS);
        next = next < 0 ? steps.Count : next;
        if (last - next >= Many - 1)
        {
            return null;
        }

        // The last step that is the charge's: those before it are, too.
        for (int i = last; i >= Math.Max(2, next - 1); i--)
        {
            // From step to step where there is one after, and half a step by the end of the log where there is none.
            double behindW = last > i ? MeanW(steps, i, last) : 0.5 * stepJ / (limitS - steps[i].TimeS);
            double meanW = MeanW(steps, i - 1, i);
            if (IsOfCharge(meanW, MeanW(steps, i - 2, i - 1), behindW))
            {
                var border = HalfAStepFrom(steps[i].TimeS, meanW, limitS - steps[i].TimeS, 1, stepJ);
                return border.TimeS > endS ? border : null;
            }
        }

        return null;
    }

    private static Border? Start(List<(double TimeS, double EnergyJ)> steps, double startS, double limitS, double stepJ)
    {
        int first = steps.FindIndex(s => s.TimeS > limitS);
        int before = steps.FindLastIndex(s => s.TimeS < startS);
        if (first < 0 || before - first >= Many - 1)
        {
            return null;
        }

        for (int i = first; i <= Math.Min(before + 1, steps.Count - 3); i++)
        {
            double beforeW = i > first ? MeanW(steps, first, i) : 0.5 * stepJ / (steps[i].TimeS - limitS);
            double meanW = MeanW(steps, i, i + 1);
            if (IsOfCharge(meanW, MeanW(steps, i + 1, i + 2), beforeW))
            {
                var border = HalfAStepFrom(steps[i].TimeS, meanW, steps[i].TimeS - limitS, -1, stepJ);
                return border.TimeS < startS ? border : null;
            }
        }

        return null;
    }

    // Had the charge stopped within the step, the level beside it would have had to fill what was left of it: that takes a part of levelW
    // (1/meanW − 1/chargeW) of the step.
    private static bool IsOfCharge(double meanW, double chargeW, double levelW) =>
        meanW > Above * levelW && levelW * ((1 / meanW) - (1 / chargeW)) < LeftForLevel;

    private static double MeanW(List<(double TimeS, double EnergyJ)> steps, int from, int to) =>
        (steps[to].EnergyJ - steps[from].EnergyJ) / (steps[to].TimeS - steps[from].TimeS);

    // As long as half a step takes at the charge's power, but no more than half of what is left.
    private static Border HalfAStepFrom(double stepS, double meanW, double leftS, int sign, double stepJ)
    {
        double awayS = Math.Min(0.5 * stepJ / meanW, 0.5 * leftS);
        return new Border(stepS + (sign * awayS), awayS / Math.Sqrt(3));
    }

    private static void SetEnd(List<ModeSpan> modes, int charge, Border end)
    {
        modes[charge] = modes[charge] with { EndS = end.TimeS, EndUncertaintyS = end.UncertaintyS, OpenAtEnd = null };
        while (charge + 1 < modes.Count && modes[charge + 1].EndS <= end.TimeS)
        {
            modes.RemoveAt(charge + 1);
        }

        if (charge + 1 < modes.Count)
        {
            modes[charge + 1] = modes[charge + 1] with { StartS = end.TimeS, StartUncertaintyS = end.UncertaintyS, OpenAtStart = null };
        }
    }

    // Returns how many modes before it were absorbed.
    private static int SetStart(List<ModeSpan> modes, int charge, Border start)
    {
        modes[charge] = modes[charge] with { StartS = start.TimeS, StartUncertaintyS = start.UncertaintyS, OpenAtStart = null };
        int swallowed = 0;
        while (charge - swallowed > 0 && modes[charge - swallowed - 1].StartS >= start.TimeS)
        {
            modes.RemoveAt(charge - ++swallowed);
        }

        int before = charge - swallowed - 1;
        if (before >= 0)
        {
            modes[before] = modes[before] with { EndS = start.TimeS, EndUncertaintyS = start.UncertaintyS, OpenAtEnd = null };
        }

        return swallowed;
    }
}
