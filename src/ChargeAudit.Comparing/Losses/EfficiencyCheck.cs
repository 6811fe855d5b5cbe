using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Comparing.Losses;

/// <summary>More energy out of a stage than into it: how likely that is by the stated uncertainty alone, and what else may explain
/// it.</summary>
/// <param name="Efficiency">Energy out divided by energy in. [1]</param>
/// <param name="Probability">Probability of such a result if nothing were lost at all; null where the uncertainty is not known. [1]</param>
/// <param name="Text">For people.</param>
public sealed record EfficiencyCheck(double Efficiency, double? Probability, string Text)
{
    /// <summary>Checks a stage.</summary>
    /// <param name="energyIn">Energy in. [Wh]</param>
    /// <param name="energyOut">Energy out. [Wh]</param>
    /// <param name="clocksAligned">Whether the two logs' clocks were brought together.</param>
    /// <returns>Null where no more comes out than goes in.</returns>
    public static EfficiencyCheck? Of(Measured energyIn, Measured energyOut, ClocksState clocksAligned)
    {
        if (!(energyOut.Value > energyIn.Value))
        {
            return null;
        }

        double efficiency = energyOut.Value / energyIn.Value;
        var difference = energyOut - energyIn;
        double? probability = null;
        if (difference.StandardUncertainty is { } u && difference.DegreesOfFreedom is { } dof)
        {
            double z = difference.Value / u;
            probability = u == 0 ? 0 : dof > 1e6 ? Normal.CDF(0, 1, -z) : StudentT.CDF(0, 1, Math.Max(1, dof), -z);
        }

        var reasons = new List<string>();
        double turned = 1 / efficiency;
        if (turned is > 0.4 and < 0.99)
        {
            reasons.Add(Prose.Of($"the two logs may be swapped (the other way round the efficiency is {100 * turned:F1} %)"));
        }

        if (clocksAligned != ClocksState.Aligned)
        {
            reasons.Add("the clocks of the two logs may differ, so that the borders of the charge cut them at different places");
        }

        reasons.Add("a meter may read wrong beyond its stated accuracy");
        string chance = probability switch
        {
            null => "The meters' uncertainty is not stated, so nothing says whether they could be the reason.",
            < 0.001 => "By the stated uncertainty that is next to impossible (below 0.1 %).",
            { } p => Prose.Of($"By the stated uncertainty alone this would happen in at most {100 * p:G2} % of cases."),
        };
        return new EfficiencyCheck(
            efficiency, probability,
            Prose.Of(
                $"More energy comes out than goes in ({energyOut.Value:G4} Wh of {energyIn.Value:G4} Wh). {chance} Likely reasons: "
                + $"{string.Join("; ", reasons)}."));
    }
}

/// <summary>Whether the clocks of two logs were brought together.</summary>
public enum ClocksState
{
    /// <summary>They were, from the steps that both logs show.</summary>
    Aligned,

    /// <summary>They were not; each log was cut by its own borders.</summary>
    NotAligned,
}
