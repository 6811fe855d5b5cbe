using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>Which of the two equations gave the unit energy consumption.</summary>
public enum UecEquation
{
    /// <summary>Equation (i): the charges leave time for maintenance.</summary>
    One,

    /// <summary>Equation (ii): they do not.</summary>
    Two,
}

/// <summary>Unit energy consumption: energy that is taken and does not reach the battery.</summary>
/// <param name="Equation">The equation that applied.</param>
/// <param name="WhPerDay">A day. [Wh]</param>
/// <param name="KwhPerYear">A year of 365 days. [kWh/a]</param>
public sealed record UecResult(UecEquation Equation, Measured WhPerDay, Measured KwhPerYear);

/// <summary>
/// The unit energy consumption of the US procedure.
/// (i)  UEC = 365 · { n·(E24 − 5·Pm − Ebatt)·24/tcd + Pm·[ta&amp;m − (tcd − 5)·n] + Psb·tsb + Poff·toff }
/// (ii) UEC = 365 · { n·(E24 − 5·Pm − Ebatt)·24/(tcd − 5) + Psb·tsb + Poff·toff }, used where (tcd − 5)·n &gt; ta&amp;m.
/// <i>Source:</i> 10 CFR 430 subpart B appendix Y, section 3.3.13 (number from memory); the branch rule was read there, the equations in a
/// secondary source that prints (i) with one bracket missing: the grouping is the one in which the square bracket is the hours of
/// maintenance.
/// </summary>
public static class UnitEnergyConsumption
{
    /// <summary>Days of the procedure's year.</summary>
    public const double DaysPerYear = 365;

    /// <summary>Hours that the test runs on after the battery is full. [h]</summary>
    public const double MaintenanceH = 5;

    /// <summary>Which equation applies.</summary>
    /// <param name="usage">The class.</param>
    /// <param name="testDurationH">Duration of the charge and maintenance test, tcd. [h]</param>
    public static UecEquation EquationFor(UsageClass usage, double testDurationH) =>
        (testDurationH - MaintenanceH) * usage.ChargesPerDay > usage.ActiveMaintenanceH ? UecEquation.Two : UecEquation.One;

    /// <summary>The unit energy consumption.</summary>
    /// <param name="usage">The class.</param>
    /// <param name="e24">Energy of the charge and maintenance test. [Wh]</param>
    /// <param name="pm">Maintenance power. [W]</param>
    /// <param name="psb">No-battery (stand-by) power. [W]</param>
    /// <param name="poff">Off power; exactly 0 where there is no switch. [W]</param>
    /// <param name="ebatt">Measured discharge energy of the battery. [Wh]</param>
    /// <param name="testDurationH">Duration of the charge and maintenance test, tcd; above 5. [h]</param>
    /// <returns>Linear in all figures, so their uncertainties and correlations carry over exactly.</returns>
    public static UecResult Of(UsageClass usage, Measured e24, Measured pm, Measured psb, Measured poff, Measured ebatt,
        double testDurationH)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(testDurationH, MaintenanceH);
        var equation = EquationFor(usage, testDurationH);
        double charges = usage.ChargesPerDay * 24 / (equation == UecEquation.One ? testDurationH : testDurationH - MaintenanceH);
        double maintenance = equation == UecEquation.One
            ? usage.ActiveMaintenanceH - ((testDurationH - MaintenanceH) * usage.ChargesPerDay)
            : 0;
        (double C, Measured X)[] terms =
        [
            (charges, e24), ((-MaintenanceH * charges) + maintenance, pm), (-charges, ebatt), (usage.StandbyH, psb), (usage.OffH, poff),
        ];
        double day = terms.Sum(t => t.C * t.X.Value);
        var perDay = Measured.Combine(day, "Wh", terms);
        return new UecResult(equation, perDay, perDay.In("kWh/a", DaysPerYear / 1000));
    }
}
