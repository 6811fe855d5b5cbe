using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Damage;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>
/// Whether readings of power are so coarse that the counter beside them tells more about the course of a charge. In steps that are a good
/// part of a charge's power a taper becomes a few flat stages, the last of which look like a full device, and waiting looks like nothing at
/// all. A counter whose step takes a short time at one step of power sees both. <i>Common practice, no source.</i>
/// </summary>
internal static class CoarseReadings
{
    /// <summary>A step of power above this share of what a charge keeps up hides its taper. [1]</summary>
    private const double HidesTaper = 0.03;

    /// <summary>The counter moves at least this often where the readings show one step. [s]</summary>
    private const double LongestTickS = 900;

    /// <summary>Share of the energy by which counter and readings may differ besides their steps. [1]</summary>
    private const double Alike = 0.1;

    /// <summary>Whether the counter of a finished summary is to give the power in place of its readings.</summary>
    public static bool YieldTo(LogSummary summary)
    {
        double counterStepJ = summary.CounterStepJ;
        if (summary.Rules.Source != PowerSource.PowerColumn || CounterBeside.Of(summary) is null
            || summary.CounterUnitChangesAt is not null || (summary.Rules.Gaps != GapPolicy.Bridge && summary.Gaps.Count > 0)
            || !summary.IsCounted(double.NegativeInfinity, double.PositiveInfinity))
        {
            return false;
        }

        var (stepW, _) = PowerLevels.Step(summary.Envelope);
        double keptUpW = SustainedPower.OfW(summary.Envelope);
        return stepW > HidesTaper * keptUpW && counterStepJ <= LongestTickS * stepW
            && Agree(summary, double.PositiveInfinity, stepW) && Agree(summary, LowCells.Below * keptUpW, stepW);
    }

    /// <summary>The doubt to add where the counter was taken without being asked for.</summary>
    public static IEnumerable<Doubt> Doubts(LogLayout layout, PowerSource source)
    {
        if (source == PowerSource.EnergyCounter && layout.Has(LogQuantity.Power))
        {
            yield return new Doubt(Gravity.Reading, "The readings of power go in steps that are too coarse for this charge, so its power "
                + "is taken from the energy counter beside them.");
        }
    }

    // Readings that are rounded are at most half a step too high, those that are cut down a step too low. A counter that stands still
    // below its starting power shows less than that where little flows.
    private static bool Agree(LogSummary summary, double belowW, double stepW)
    {
        var low = LowCells.Of(summary, belowW);
        double apartJ = low.CountedJ - low.ReadJ;
        double alikeJ = (2 * low.Runs * summary.CounterStepJ) + (Alike * Math.Abs(low.ReadJ));
        return apartJ >= -((0.5 * stepW * low.TimeS) + alikeJ) && apartJ <= (stepW * low.TimeS) + alikeJ;
    }
}
