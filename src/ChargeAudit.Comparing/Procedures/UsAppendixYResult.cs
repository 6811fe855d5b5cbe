using System.Text.Json.Serialization;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>Whether the procedure's own conditions allow the figure to be called its result.</summary>
public enum ProcedureVerdict
{
    /// <summary>What logs can show holds; the rest is for whoever tested to know.</summary>
    [JsonStringEnumMemberName("nothing-against")] NothingAgainst,

    /// <summary>A condition does not hold.</summary>
    [JsonStringEnumMemberName("not-met")] NotMet,

    /// <summary>No class of the procedure covers the charger: arithmetic of the procedure, outside its scope.</summary>
    [JsonStringEnumMemberName("outside-scope")] OutsideScope,
}

/// <summary>The US procedure's figures for one charger.</summary>
/// <param name="Class">The class whose profile was used; null where the battery is not known well enough to choose one.</param>
/// <param name="BatteryEnergy">Discharge energy that was subtracted. [Wh]</param>
/// <param name="Test">The charge and maintenance test.</param>
/// <param name="NoBatteryPower">[W]</param>
/// <param name="OffPower">[W]</param>
/// <param name="Equation">Which equation applied; null where none could.</param>
/// <param name="Uec">Unit energy consumption. [kWh/a]</param>
/// <param name="Limit">The class's limit beside it, as information; null where there is none.</param>
/// <param name="Checks">All conditions.</param>
/// <param name="Verdict">Whether it may be called the procedure's result.</param>
/// <param name="Text">The verdict as a sentence.</param>
/// <param name="AppendixY1">The separate figures of appendix Y1.</param>
public sealed record UsAppendixYResult(
    UsageClass? Class,
    Figure BatteryEnergy,
    ChargeAndMaintenanceTest Test,
    Figure NoBatteryPower,
    Figure OffPower,
    UecEquation? Equation,
    Figure Uec,
    YardstickFinding? Limit,
    IReadOnlyList<ProcedureCheck> Checks,
    ProcedureVerdict Verdict,
    string Text,
    AppendixY1Figures AppendixY1);
