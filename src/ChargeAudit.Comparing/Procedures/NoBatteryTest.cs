using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// Power with no battery (or, with the switches off, off power): the battery is removed, the charger runs for at least 30 min, then the
/// energy of 10 min is divided by their length. <i>Source:</i> 10 CFR 430 subpart B appendix Y, sections 3.3.11 and 3.3.12 (section numbers
/// from memory; their text was read).
/// </summary>
/// <param name="Power">Mean over the last 10 min. [W]</param>
/// <param name="Checks">The conditions that a log can show.</param>
public sealed record NoBatteryTest(Figure Power, IReadOnlyList<ProcedureCheck> Checks)
{
    private const double SettleS = 30 * 60;
    private const double PeriodS = 10 * 60;

    /// <summary>Reads a log of the waiting charger as the test; its last 10 min count.</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="fromS">When the device was removed. [s]</param>
    /// <param name="toS">End of the log, or when the device came back. [s]</param>
    /// <param name="energyBetween">Energy between two times with its uncertainty, in Wh; null: the envelope's value, its uncertainty
    /// unknown.</param>
    public static NoBatteryTest From(PowerEnvelope envelope, double fromS, double toS, Func<double, double, Measured>? energyBetween = null)
    {
        double lengthS = toS - fromS;
        bool enough = lengthS >= SettleS + PeriodS;
        string found = Prose.Of($"the log holds {lengthS / 60:0.#} min with no device");
        var check = new ProcedureCheck(
            "no-battery-period", enough
                ? ConditionState.Met
                : ConditionState.NotMet, $"at least 30 min with no battery, then 10 min that count; {found}");
        if (!enough)
        {
            return new NoBatteryTest(Figure.None(found + ", and 40 min are needed"), [check]);
        }

        double coveredS = envelope.CoveredBetweenS(toS - PeriodS, toS) - envelope.BridgedBetweenS(toS - PeriodS, toS);
        var whole = new ProcedureCheck(
            "no-battery-record",
            coveredS > PeriodS - 60 ? ConditionState.Met : ConditionState.NotMet,
            Prose.Of(
                $"the 10 min that count are recorded without holes; {Math.Max(0, PeriodS - coveredS):0.#} s of them were not logged"));
        if (!(coveredS > 0))
        {
            return new NoBatteryTest(Figure.None("nothing was logged in the 10 min that count"), [check, whole]);
        }

        var energy = energyBetween?.Invoke(toS - PeriodS, toS)
            ?? Measured.Unknown(envelope.EnergyBetweenJ(toS - PeriodS, toS) / 3600, "Wh", "the meter's accuracy was not given");
        return new NoBatteryTest(Figure.Of(energy.In("W", 3600 / envelope.CoveredBetweenS(toS - PeriodS, toS))), [check, whole]);
    }
}
