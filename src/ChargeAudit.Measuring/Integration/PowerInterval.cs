namespace ChargeAudit.Measuring.Integration;

/// <summary>A stretch of time over which power, voltage and current run in straight lines.</summary>
/// <param name="FromS">Start. [s]</param>
/// <param name="ToS">End. [s]</param>
/// <param name="FromW">Power at the start. [W]</param>
/// <param name="ToW">Power at the end. [W]</param>
/// <param name="MeanV">Mean voltage; zero where unknown. [V]</param>
/// <param name="MeanA">Mean current; zero where unknown. [A]</param>
/// <param name="Bridged">Whether it is a bridged gap, which was not measured.</param>
public readonly record struct PowerInterval(
    double FromS, double ToS, double FromW, double ToW, double MeanV = 0, double MeanA = 0, bool Bridged = false)
{
    /// <summary>Integral of power. [J]</summary>
    public double EnergyJ => 0.5 * (FromW + ToW) * (ToS - FromS);
}
