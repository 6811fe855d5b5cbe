using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring.Counting;

/// <summary>
/// Ends charges by the band of the counter where power comes from it alone and its steps are many. What the modes say about the time after
/// the charge gives way to the levels that the counter shows. Pure.
/// </summary>
internal static class CounterEnds
{
    /// <summary>A charge of fewer steps shows no fall. [1]</summary>
    private const double LeastSteps = 40;

    /// <summary>The modes with other ends of their charges.</summary>
    /// <param name="modes">The modes, in order, without holes.</param>
    /// <param name="summary">The finished summary.</param>
    /// <param name="waitingW">What the waiting charger takes, where another log shows it. [W]</param>
    /// <param name="waitingMostW">The greatest that it may take by that log. [W]</param>
    public static IReadOnlyList<ModeSpan> Of(IReadOnlyList<ModeSpan> modes, LogSummary summary, double? waitingW, double waitingMostW = 0)
    {
        double stepJ = summary.CounterStepJ;
        if (summary.Rules.Source != PowerSource.EnergyCounter || !(stepJ > 0) || summary.Counted.Count < 2)
        {
            return modes;
        }

        var changed = new List<ModeSpan>(modes);
        for (int i = 0; i < changed.Count; i++)
        {
            if (changed[i].Mode != Mode.Charge)
            {
                continue;
            }

            int next = changed.FindIndex(i + 1, m => m.Mode == Mode.Charge);
            double limitS = next < 0 ? changed[^1].EndS : changed[next].StartS;
            var band = CounterBand.Of(summary.Counted, stepJ, changed[i].StartS, limitS);
            var levels = new WaitingLevels(waitingW is { } known ? [known] : BeforeW(changed, i, summary), waitingMostW);
            if (band.Count > 2 && summary.CounterEnergyJ > LeastSteps * stepJ && CounterTail.Of(band, waitingW, levels) is { } end)
            {
                int count = (next < 0 ? changed.Count : next) - i;
                if (end is { Doubted: { } open, AfterW: { } afterW } && !levels.Hold(afterW))
                {
                    end = end with { EndS = open.FromS, FullW = null, RemovedS = open.ToS, MayStay = true };
                }

                var replaced = end.FullW is { } levelW ? Told(changed.GetRange(i, count), end, levelW, limitS, levels)
                    : Opened(changed.GetRange(i, count), end, limitS, summary, levels);
                changed.RemoveRange(i, count);
                changed.InsertRange(i, replaced);
            }
        }

        return changed;
    }

    // Levels of what was idle before, back to the charge before, by the rows that lie wholly in it: the next may hold the start of the
    // charge. Only where a step more or less would not make one another level.
    private static List<double> BeforeW(List<ModeSpan> modes, int charge, LogSummary summary)
    {
        var levelsW = new List<double>();
        for (int i = charge - 1; i >= 0 && modes[i].Mode is Mode.NoLoad or Mode.Off; i--)
        {
            var inside = summary.Counted.Where(c => c.TimeS >= modes[i].StartS && c.TimeS <= modes[i].EndS).ToList();
            if (inside.Count < 2)
            {
                continue;
            }

            double energyJ = inside[^1].EnergyJ - inside[0].EnergyJ, lengthS = inside[^1].TimeS - inside[0].TimeS;
            if (summary.CounterStepJ < Math.Max(WaitingLevels.Alike * energyJ, WaitingLevels.NothingW * lengthS))
            {
                levelsW.Add(energyJ / lengthS);
            }
        }

        return levelsW;
    }

    private static List<ModeSpan> Told(List<ModeSpan> old, in CounterEnd end, double levelW, double limitS, WaitingLevels levels)
    {
        var spans = new List<ModeSpan>
        {
            old[0] with { EndS = end.EndS, EndUncertaintyS = end.UncertaintyS, EndErrors = null, OpenAtEnd = null },
        };
        if (end.AfterW is not { } afterW)
        {
            var mode = levels.Hold(levelW) ? Idle(old, levelW) : Mode.Maintenance;
            spans.Add(new ModeSpan(mode, end.EndS, limitS, end.UncertaintyS, 0)
            {
                OpenAtEnd = mode == Mode.Maintenance && end.RemovedS < limitS ? new OpenStretch(end.RemovedS, limitS) : null,
            });
            return spans;
        }

        if (end.MayStay)
        {
            // The device may have been taken off or not: that part says nothing about either level.
            double fromS = Math.Max(end.EndS, end.RemovedS - (Math.Sqrt(3) * end.RemovedUncertaintyS));
            spans.Add(new ModeSpan(Mode.Maintenance, end.EndS, limitS, end.UncertaintyS, 0) { OpenAtEnd = new OpenStretch(fromS, limitS) });
            return spans;
        }

        spans.Add(new ModeSpan(Mode.Maintenance, end.EndS, end.RemovedS, end.UncertaintyS, end.RemovedUncertaintyS));
        spans.Add(new ModeSpan(Idle(old, afterW), end.RemovedS, limitS, end.RemovedUncertaintyS, 0));
        return spans;
    }

    // What the modes found at the end of the stretch, where that is idle.
    private static Mode Idle(List<ModeSpan> old, double powerW) => old[^1].Mode is var found and (Mode.Off or Mode.NoLoad) ? found
        : powerW < WaitingLevels.NothingW ? Mode.Off : Mode.NoLoad;

    // Half of the energy that may be either's is counted with the charge; the interval reaches over all of it.
    private static List<ModeSpan> Opened(List<ModeSpan> old, in CounterEnd end, double limitS, LogSummary summary, WaitingLevels levels)
    {
        // A log that ends at high power ends within its charge.
        if (end.RemovedS <= end.EndS || (old.Count == 1 && !end.IsLow))
        {
            return old;
        }

        double fromS = end.EndS, toS = end.RemovedS;
        double halfJ = 0.5 * summary.Course.EnergyBetweenJ(fromS, toS);
        double low = fromS, high = toS;
        for (int turn = 0; turn < 40; turn++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = summary.Course.EnergyBetweenJ(fromS, middle) < halfJ ? (middle, high) : (low, middle);
        }

        var open = new OpenStretch(low, toS);
        bool mayStay = end.MayStay && toS < limitS && !(end.AfterW is { } afterW && levels.Hold(afterW));
        var spans = new List<ModeSpan>
        {
            old[0] with { EndS = low, EndUncertaintyS = 0, EndErrors = null, OpenAtEnd = open },
            new(Mode.Maintenance, low, mayStay ? limitS : toS, 0, 0)
            {
                OpenAtStart = open,
                OpenAtEnd = mayStay ? new OpenStretch(toS, limitS) : null,
            },
        };
        if (toS < limitS && !mayStay)
        {
            spans.Add(new ModeSpan(Idle(old, end.AfterW ?? 0), toS, limitS, 0, 0));
        }

        return spans;
    }
}
