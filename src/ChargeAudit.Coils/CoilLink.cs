namespace ChargeAudit.Coils;

/// <summary>The T-equivalent of two coupled coils with a turns ratio of one. An arm is negative where the mutual inductance exceeds that
/// coil's own.</summary>
/// <param name="PrimaryArmH">L₁ − M. [H]</param>
/// <param name="SecondaryArmH">L₂ − M. [H]</param>
/// <param name="ShuntH">M. [H]</param>
public readonly record struct TEquivalent(double PrimaryArmH, double SecondaryArmH, double ShuntH);

/// <summary>
/// Two coupled coils at one frequency. What they can do at best depends on coupling and quality alone, whatever surrounds them.
/// <i>Source:</i> K. Van Schuylenbergh and R. Puers, Inductive Powering, Springer 2009 (form of the link efficiency).
/// </summary>
public sealed record CoilLink
{
    /// <summary>Inductance of the coil that is driven. [H]</summary>
    public required double PrimaryH { get; init; }

    /// <summary>Inductance of the coil that receives. [H]</summary>
    public required double SecondaryH { get; init; }

    /// <summary>Coupling coefficient, above 0 and below 1. [1]</summary>
    public required double Coupling { get; init; }

    /// <summary>Quality factor of the driven coil at <see cref="FrequencyHz"/>. [1]</summary>
    public required double PrimaryQ { get; init; }

    /// <summary>Quality factor of the receiving coil at <see cref="FrequencyHz"/>. [1]</summary>
    public required double SecondaryQ { get; init; }

    /// <summary>Operating frequency. [Hz]</summary>
    public required double FrequencyHz { get; init; }

    /// <summary>Angular frequency. [rad/s]</summary>
    public double Omega => 2 * Math.PI * FrequencyHz;

    /// <summary>Mutual inductance, k·√(L₁·L₂). [H]</summary>
    public double MutualH => Coupling * Math.Sqrt(PrimaryH * SecondaryH);

    /// <summary>Reactance of the mutual inductance. [Ω]</summary>
    public double MutualOhm => Omega * MutualH;

    /// <summary>Resistance of the driven coil, taken as constant over frequency. [Ω]</summary>
    public double PrimaryOhm => Omega * PrimaryH / PrimaryQ;

    /// <summary>Resistance of the receiving coil, taken as constant over frequency. [Ω]</summary>
    public double SecondaryOhm => Omega * SecondaryH / SecondaryQ;

    /// <summary>U = k·√(Q₁·Q₂): the one number that decides the best efficiency. [1]</summary>
    public double FigureOfMerit => Coupling * Math.Sqrt(PrimaryQ * SecondaryQ);

    /// <summary>The best efficiency from the driven coil's terminals to the load, U²/(1 + √(1 + U²))². The losses of inverter and rectifier
    /// come on top. [1]</summary>
    public double MaximumEfficiency => BestEfficiency(FigureOfMerit);

    /// <summary>Its T-equivalent.</summary>
    public TEquivalent T => new(PrimaryH - MutualH, SecondaryH - MutualH, MutualH);

    /// <summary>The same coils looked at from the other side. The best efficiency is the same.</summary>
    public CoilLink Reversed => this with { PrimaryH = SecondaryH, SecondaryH = PrimaryH, PrimaryQ = SecondaryQ, SecondaryQ = PrimaryQ };

    /// <summary>Best efficiency for a figure of merit.</summary>
    /// <param name="figureOfMerit">U, not negative. [1]</param>
    /// <returns>Efficiency, 0 to 1. [1]</returns>
    public static double BestEfficiency(double figureOfMerit)
    {
        double root = 1 + Math.Sqrt(1 + (figureOfMerit * figureOfMerit));
        return figureOfMerit / root * (figureOfMerit / root);
    }
}
