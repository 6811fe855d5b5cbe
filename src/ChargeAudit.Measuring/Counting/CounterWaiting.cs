namespace ChargeAudit.Measuring.Counting;

/// <summary>Which lines of a counter's band the waiting charger may take. Pure.</summary>
/// <param name="band">Band of the stretch from the start of the charge.</param>
/// <param name="lines">Its lines in a band of one step, in order.</param>
/// <param name="returns">Levels that these lines come back to.</param>
/// <param name="levels">What the waiting charger takes.</param>
internal sealed class CounterWaiting(CounterBand band, IReadOnlyList<CounterLine> lines, CounterReturns returns, WaitingLevels levels)
{
    /// <summary>Fewer steps and readings right behind a level may hold its end and another level. [1]</summary>
    private const double StepsThatTell = 3;
    private const int ReadingsThatTell = 3;

    /// <summary>Whether it is known what the waiting charger takes.</summary>
    public bool IsKnown => levels.LevelsW.Count > 0;

    /// <summary>Whether a line may be the waiting charger's: at its level or, where nothing tells that well enough, with nothing lower
    /// behind it.</summary>
    public bool MayBe(CounterLine line)
    {
        var told = lines.Where(l => l.MiddleS >= line.StartS && l.MiddleS <= line.EndS).DefaultIfEmpty(line).MaxBy(l => l.LengthS);
        return levels.Fit(told) || ((!IsKnown || told.LeastW <= levels.MostW)
            && !lines.Any(l => l.MiddleS > line.EndS && returns.Tells(l) && l.PowerW < CounterFall.TakenOff * told.PowerW));
    }

    /// <summary>Whether the device draws less behind a line and yet is there: then the line is no full device's, or a full device's that is
    /// in use.</summary>
    public bool StaysBelow(CounterLine level)
    {
        var lower = lines.Where(l => l.MiddleS > level.EndS && l.PowerW < CounterFall.TakenOff * level.PowerW).ToList();
        return lower.Where((l, i) => returns.Tells(l) && !MayBe(l)
            && (i > 0 || (l.EnergyJ >= StepsThatTell * band.StepJ && band.Readings(l) >= ReadingsThatTell))).Any();
    }
}
