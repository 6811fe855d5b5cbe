using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>What a careful reader would doubt about a log's energy counter, in plain sentences.</summary>
internal static class CounterDoubts
{
    public static IEnumerable<Doubt> Of(LogSummary summary)
    {
        bool alone = summary.Rules.Source == PowerSource.EnergyCounter;
        double stepWh = summary.CounterStepJ / Joules.PerWattHour;
        double hours = (summary.EndS - summary.StartS) / 3600;
        if (alone && summary.CounterEnergyJ == 0)
        {
            yield return stepWh > 0
                ? Prose.Of(
                    $"The counter did not move in {hours:G3} h, so all that is known is that less than one step of {stepWh:G3} Wh flowed, "
                    + $"{stepWh / hours:G3} W on average; the middle is shown. Even that holds only for loads above the meter's starting "
                    + $"power, below which it counts nothing.")
                : Prose.Of(
                    $"The counter did not move in {hours:G3} h, and its step is not known, so nothing can be said about the energy; "
                        + $"state the step as the resolution of its accuracy.");
        }
        else if (alone && stepWh > 0.02 * summary.CounterEnergyJ / Joules.PerWattHour)
        {
            yield return new Doubt(Gravity.Wide, Prose.Of(
                $"The counter advanced by only {summary.CounterEnergyJ / summary.CounterStepJ:F0} steps of {stepWh:G3} Wh; a stretch is "
                + $"known to half a step at each end."));
        }

        foreach (var gap in summary.Gaps.Longest.Where(g => g.Contradicts))
        {
            yield return new Doubt(Gravity.Wide, Prose.Of(
                $"Over the gap before line {gap.Line} the counter advanced by {gap.CounterJ / Joules.PerWattHour:G3} Wh, which is not what "
                + $"the readings at its ends allow ({gap.BridgeJ / Joules.PerWattHour:G3} Wh by the bridge); the interval reaches from one "
                + $"to the other."));
        }
    }

    /// <summary>Why an energy by the counter alone has no interval; null where it has one.</summary>
    public static string? Unknown(LogSummary summary) =>
        summary is { Rules.Source: PowerSource.EnergyCounter, CounterEnergyJ: 0 } && !(summary.CounterStepJ > 0)
            ? "the counter did not move and its step is not known"
            : null;
}
