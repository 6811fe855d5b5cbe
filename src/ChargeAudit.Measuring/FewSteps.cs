using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring;

/// <summary>
/// Start and end of a charge where power comes from a counter's steps alone. Few steps show no level: what is drawn before or after the charge in fewer than four of them,
/// and well above nothing beside the charge, is as likely its start or the rest of its fall. It belongs to the charge; how long it took is not known. Pure.
/// </summary>
internal static class FewSteps
{
    /// <summary>A level is shown by so many steps of the counter at least. [1]</summary>
    private const double LeastSteps = 4;

    /// <summary>Waiting and the full device draw less than this share of the charge's mean. [1]</summary>
    private const double LeastShare = 0.08;

    /// <summary>What is taken in is no longer than this share of the charge found, or its length would say nothing: at the end, and at the start. [1]</summary>
    private const double MostEnd = 0.5;
    private const double MostStart = 0.2;

    /// <summary>What was found, with such ends put right.</summary>
    /// <param name="finding">What power alone told.</param>
    /// <param name="summary">The finished summary of the log.</param>
    public static ModeFinding Of(ModeFinding finding, LogSummary summary)
    {
        if (summary.Rules.Source != PowerSource.EnergyCounter || !(summary.CounterStepJ > 0))
        {
            return finding;
        }

        var modes = new List<ModeSpan>(finding.Modes);
        var doubts = new List<string>();
        for (int i = 0; i + 1 < modes.Count; i++)
        {
            while (i + 1 < modes.Count && modes[i] is { Mode: Mode.Charge } charge && modes[i + 1] is { Mode: Mode.Maintenance or Mode.NoLoad } after
                && IsFew(summary, charge, after, MostEnd))
            {
                doubts.Add(FormattableString.Invariant(
                    $"Between {after.StartS:F0} s and {after.EndS:F0} s the counter moves on by {summary.Envelope.EnergyBetweenJ(after.StartS, after.EndS) / summary.CounterStepJ:F0} steps, too few to tell the end of the charge's fall from the full device: it is taken for the charge's."));
                modes[i] = charge with { EndS = after.EndS, EndUncertaintyS = after.EndUncertaintyS };
                modes.RemoveAt(i + 1);
            }
        }

        if (modes.Count > 1 && modes[1] is { Mode: Mode.Charge } first && modes[0].Mode is Mode.NoLoad or Mode.Off
            && IsFew(summary, first, modes[0], MostStart))
        {
            doubts.Add(FormattableString.Invariant(
                $"The counter's first step, up to {first.StartS:F0} s, holds more than waiting would: it is taken for the charge's, which began at some time before."));
            modes[1] = first with { StartS = modes[0].StartS, StartUncertaintyS = modes[0].StartUncertaintyS };
            modes.RemoveAt(0);
        }

        return doubts.Count == 0 ? finding : finding with { Modes = modes, Doubts = [.. finding.Doubts, .. doubts] };
    }

    private static bool IsFew(LogSummary summary, ModeSpan charge, ModeSpan beside, double most)
    {
        double energyJ = summary.Envelope.EnergyBetweenJ(beside.StartS, beside.EndS);
        double chargeW = summary.Envelope.EnergyBetweenJ(charge.StartS, charge.EndS) / charge.DurationS;
        return beside.DurationS <= most * charge.DurationS && energyJ > 0.5 * summary.CounterStepJ && energyJ < LeastSteps * summary.CounterStepJ && energyJ / beside.DurationS > LeastShare * chargeW;
    }
}
