namespace ChargeAudit.Metrology.Units;

/// <summary>
/// Numbers that a file may hold. No meter, study or result has numbers greater than 10²¹; up to there every product, square and fourth
/// power that is worked out stays a number. Whoever reads a number from a file asks here, once, so that no later step has to.
/// </summary>
public static class NumberLimits
{
    /// <summary>Greatest magnitude of a number in a file. [any unit]</summary>
    public const double Greatest = 1e21;

    /// <summary>Smaller magnitudes are zero: dividing by them would leave the range of numbers. [any unit]</summary>
    public const double Least = 1e-21;

    /// <summary>Whether a number can be meant: it is not NaN, and no greater than anything that is measured.</summary>
    /// <param name="number">The number as read.</param>
    public static bool CanBeMeant(double number) => Math.Abs(number) <= Greatest;

    /// <summary>The number, or zero where it is so small that nothing but zero can be meant.</summary>
    /// <param name="number">The number as read.</param>
    public static double Meant(double number) => Math.Abs(number) < Least ? 0 : number;
}
