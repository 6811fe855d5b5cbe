namespace ChargeAudit.Analysis.Integration;

/// <summary>A stretch of time over which power, voltage and current run in straight lines.</summary>
/// <param name="FromS">Start. [s]</param>
/// <param name="ToS">End. [s]</param>
/// <param name="FromW">Power at the start. [W]</param>
/// <param name="ToW">Power at the end. [W]</param>
/// <param name="MeanV">Mean voltage; zero where unknown. [V]</param>
/// <param name="MeanA">Mean current; zero where unknown. [A]</param>
/// <param name="Bridged">Whether it is a bridged gap, which nobody measured.</param>
public readonly record struct PowerInterval(
    double FromS, double ToS, double FromW, double ToW, double MeanV = 0, double MeanA = 0, bool Bridged = false)
{
    /// <summary>Integral of power. [J]</summary>
    public double EnergyJ => 0.5 * (FromW + ToW) * (ToS - FromS);

    /// <summary>A cell of an envelope with the part of this interval between two times added to it.</summary>
    internal EnvelopeBucket AddTo(in EnvelopeBucket bucket, double fromS, double toS)
    {
        double length = toS - fromS;
        double mean = fromS == FromS && toS == ToS
            ? 0.5 * (FromW + ToW)
            : FromW + ((ToW - FromW) * ((0.5 * (fromS + toS)) - FromS) / (ToS - FromS));
        return bucket with
        {
            EnergyJ = bucket.EnergyJ + (mean * length),
            CoveredS = bucket.CoveredS + length,
            BridgedS = Bridged ? bucket.BridgedS + length : bucket.BridgedS,
            VoltSeconds = MeanV == 0 ? bucket.VoltSeconds : bucket.VoltSeconds + (MeanV * length),
            ChargeC = MeanA == 0 ? bucket.ChargeC : bucket.ChargeC + (MeanA * length),
            SquaredCurrentS = MeanA == 0 ? bucket.SquaredCurrentS : bucket.SquaredCurrentS + (MeanA * MeanA * length),
        };
    }
}
