using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// The separate figures of the newer appendix Y1, which has no usage profile. It applies only once amended standards exist.
/// <i>Source:</i> 10 CFR 429.39(a)(1)(ii) and (iii) (which figures are represented); what each of them is: from memory.
/// </summary>
/// <param name="ActiveChargeEnergy">Energy from the start to the end of the charge, Ea. [Wh]</param>
/// <param name="MaintenancePower">Pm. [W]</param>
/// <param name="NoBatteryPower">Pnb. [W]</param>
/// <param name="StandbyPower">Psb, the sum of the two before: from memory. [W]</param>
/// <param name="OffPower">Poff. [W]</param>
/// <param name="DurationH">Charge and maintenance test, tcd; null where it is not represented. [h]</param>
/// <param name="Notes">Remarks on them.</param>
public sealed record AppendixY1Figures(
    Figure ActiveChargeEnergy, Figure MaintenancePower, Figure NoBatteryPower, Figure StandbyPower, Figure OffPower, double? DurationH,
        IReadOnlyList<string> Notes)
{
    private const string OpenOnly = "for a pad with open placement only the no-battery power is represented";

    /// <summary>The figures of a charger.</summary>
    /// <param name="placement">What sort of charger it is.</param>
    /// <param name="activeChargeEnergy">Energy over the charge. [Wh]</param>
    /// <param name="test">The charge and maintenance test.</param>
    /// <param name="noBattery">No-battery power. [W]</param>
    /// <param name="off">Off power; missing where there is no switch. [W]</param>
    public static AppendixY1Figures Of(PadPlacement placement, Figure activeChargeEnergy, ChargeAndMaintenanceTest test, Figure noBattery,
        Figure off)
    {
        string[] notes =
        [
            "10 CFR 430 subpart B appendix Y1 applies from the day on which amended standards do, and there are none: the proposal of 2023 "
                + "(88 FR 16112) was withdrawn on 17 January 2025 (90 FR 5747), and in 2025 the department proposed to rescind the "
                + "battery-charger standards (FR Doc 2025-08598), with no final rule found (state of 2026-11-26)",
            "the definitions of active charge energy and stand-by power are from memory, not read: check them before relying on these "
                + "figures",
        ];
        if (placement == PadPlacement.OpenPlacement)
        {
            var none = Figure.None(OpenOnly);
            return new AppendixY1Figures(none, none, noBattery, none, none, null, notes);
        }

        var pm = test.MaintenancePower;
        var standby = (pm.WhyNot ?? noBattery.WhyNot) is { } why
            ? Figure.None(why)
            : Figure.Of(pm.Value! + noBattery.Value!, pm.Assumed ?? noBattery.Assumed);
        return new AppendixY1Figures(activeChargeEnergy, pm, noBattery, standby, off, test.DurationH, notes);
    }
}
