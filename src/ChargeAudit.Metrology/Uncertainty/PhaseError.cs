namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>
/// What a phase error between a meter's voltage and current does to real power. With sinusoidal quantities P = S cos φ is read as
/// S cos(φ + δ), so ΔP = −S sin φ · δ to first order: ΔP/P = tan φ · δ. With a distorted current and a sinusoidal voltage only the
/// fundamental carries power, so the error is that of its reactive power, which is at most the non-active power √(S² − P²): what is
/// worked out here from the power factor is then an upper bound.
/// <i>Source:</i> elementary; IEC 62301:2011 and EN 50564:2011 name low power factor as a cause of error without giving the formula (from
/// memory).
/// </summary>
public static class PhaseError
{
    /// <summary>tan φ of a power factor taken for cos φ. [1]</summary>
    /// <param name="powerFactor">Power factor, above 0 and at most 1. [1]</param>
    public static double Tangent(double powerFactor) => Math.Sqrt(Math.Max(0, 1 - (powerFactor * powerFactor))) / powerFactor;

    /// <summary>Greatest change of an energy by a phase error. The second order counts where the power factor is near one: |cos(φ + δ) −
    /// cos φ| ≤ sin φ · δ + cos φ · δ²/2. [J]</summary>
    /// <param name="energyJ">Energy. [J]</param>
    /// <param name="nonActiveJ">Non-active energy: ∫√(S² − P²) dt. [J]</param>
    /// <param name="limitRad">Limit of the phase error. [rad]</param>
    public static double HalfWidthJ(double energyJ, double nonActiveJ, double limitRad) =>
        (nonActiveJ * limitRad) + (0.5 * Math.Abs(energyJ) * limitRad * limitRad);
}
