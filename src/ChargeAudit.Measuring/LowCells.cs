using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring;

/// <summary>What the readings and the counter beside them say of the time in which little flows.</summary>
/// <param name="ReadJ">Energy by the readings. [J]</param>
/// <param name="CountedJ">Advance of the counter. [J]</param>
/// <param name="TimeS">How long that is. [s]</param>
/// <param name="Runs">How many stretches it is in; the advance over each is known to a step or so.</param>
internal readonly record struct LowCells(double ReadJ, double CountedJ, double TimeS, int Runs)
{
    /// <summary>Little is what lies below this share of the power that a charge keeps up. [1]</summary>
    public const double Below = 0.25;

    /// <summary>A counter that shows less than this share of the readings' energy did not register the load: below its starting power it
    /// stands still. Readings that are rounded may be twice what flows. [1]</summary>
    private const double LeastRegistered = 0.5;

    /// <summary>The cells of a log whose mean power lies below a limit.</summary>
    /// <param name="summary">Its finished summary, with a counter.</param>
    /// <param name="belowW">The limit. [W]</param>
    public static LowCells Of(LogSummary summary, double belowW)
    {
        var (envelope, counted) = (summary.Envelope, summary.Counted);
        double readJ = 0, countedJ = 0, timeS = 0;
        int runs = 0, at = 0;
        // Rows may lie further apart than cells.
        double UpToJ(double untilS)
        {
            while (at + 1 < counted.Count && counted[at + 1].TimeS <= untilS)
            {
                at++;
            }

            var (before, after) = (counted[at], counted[Math.Min(at + 1, counted.Count - 1)]);
            return after.TimeS > before.TimeS && untilS > before.TimeS
                ? before.EnergyJ + ((after.EnergyJ - before.EnergyJ) * (untilS - before.TimeS) / (after.TimeS - before.TimeS))
                : before.EnergyJ;
        }

        for (int i = 0; i < envelope.Count; i++)
        {
            int first = i;
            for (; i < envelope.Count && envelope[i].CoveredS.Value > 0 && envelope[i].MeanPowerW < belowW; i++)
            {
                readJ += envelope[i].EnergyJ.Value;
                timeS += envelope[i].CoveredS.Value;
            }

            if (i > first)
            {
                runs++;
                double beforeJ = UpToJ(envelope.StartS(first));
                countedJ += UpToJ(envelope.StartS(i)) - beforeJ;
            }
        }

        return new LowCells(readJ, countedJ, timeS, runs);
    }

    /// <summary>Whether a log's counter registers what flows while the device is full or the charger waits. Asked anew below half of each
    /// limit, as it may register the one and not the other.</summary>
    /// <param name="summary">Its finished summary, with a counter.</param>
    public static bool AreRegistered(LogSummary summary)
    {
        double belowW = Below * SustainedPower.OfW(summary.Envelope);
        for (var low = Of(summary, belowW); low.ReadJ > summary.CounterStepJ; low = Of(summary, belowW))
        {
            if (low.CountedJ < (LeastRegistered * low.ReadJ) - (low.Runs * summary.CounterStepJ))
            {
                return false;
            }

            belowW *= 0.5;
        }

        return true;
    }
}
