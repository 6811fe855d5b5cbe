namespace ChargeAudit.Coils;

/// <summary>
/// Mutual inductance of thin circular turns with parallel axes, in air.
/// <i>Source:</i> J. C. Maxwell, A Treatise on Electricity and Magnetism, art. 701; the elliptic integrals by the arithmetic–geometric mean
/// (DLMF §19.8).
/// </summary>
public static class CircularFilament
{
    /// <summary>Magnetic constant, 4π·10⁻⁷. The SI of 2019 makes it a measured value that differs by about 1e-10 of itself. [H/m]</summary>
    public const double Mu0 = 4e-7 * Math.PI;

    private const int MostPoints = 1 << 16;

    /// <summary>Mutual inductance of two turns on one axis.</summary>
    /// <param name="radiusM">Radius of the first, above 0. [m]</param>
    /// <param name="otherRadiusM">Radius of the second, above 0. [m]</param>
    /// <param name="distanceM">Distance between their planes. [m]</param>
    /// <returns>Mutual inductance; the turns must not coincide. [H]</returns>
    public static double MutualInductance(double radiusM, double otherRadiusM, double distanceM) =>
        2 * Math.PI * otherRadiusM * otherRadiusM * PotentialPerRadius(radiusM, otherRadiusM, distanceM);

    /// <summary>
    /// Mutual inductance of two turns whose axes are parallel and <paramref name="offsetM"/> apart: Neumann's double integral, of which the
    /// inner one is the vector potential in closed form. The outer one is a sum over evenly spaced points, which converges geometrically
    /// for a periodic function.
    /// </summary>
    /// <param name="radiusM">Radius of the first. [m]</param>
    /// <param name="otherRadiusM">Radius of the second. [m]</param>
    /// <param name="distanceM">Distance between their planes. [m]</param>
    /// <param name="offsetM">Distance between their axes. [m]</param>
    /// <returns>Mutual inductance; negative where the flux comes back through the second turn. [H]</returns>
    public static double MutualInductance(double radiusM, double otherRadiusM, double distanceM, double offsetM)
    {
        if (offsetM == 0)
        {
            return MutualInductance(radiusM, otherRadiusM, distanceM);
        }

        double before = double.NaN;
        for (int points = 64; ; points *= 2)
        {
            double now = RingSum(radiusM, otherRadiusM, distanceM, offsetM, points);
            if (Math.Abs(now - before) <= 1e-13 * Math.Abs(now) || points == MostPoints)
            {
                return now;
            }

            before = now;
        }
    }

    private static double RingSum(double radiusM, double otherRadiusM, double distanceM, double offsetM, int points)
    {
        double sum = 0;
        double[] cosines = UnitCircle.Cosines(points);
        for (int i = 0; i <= points / 2; i++)
        {
            double squared = (offsetM * offsetM) + (otherRadiusM * otherRadiusM) + (2 * offsetM * otherRadiusM * cosines[i]);
            double term = PotentialPerRadius(radiusM, Math.Sqrt(Math.Max(0, squared)), distanceM) * (otherRadiusM + (offsetM * cosines[i]));
            // The ring is symmetric about the line of the offset: count the inner points twice.
            sum += i == 0 || i == points / 2 ? term : 2 * term;
        }

        return otherRadiusM * sum * (2 * Math.PI / points);
    }

    /// <summary>
    /// Vector potential of a turn that carries 1 A, divided by the distance from its axis. With the integrals' difference taken from the
    /// mean's own terms nothing cancels, so it is exact to rounding from touching turns out to the far field, and on the axis itself.
    /// </summary>
    private static double PotentialPerRadius(double radiusM, double fromAxisM, double distanceM)
    {
        double far = ((radiusM + fromAxisM) * (radiusM + fromAxisM)) + (distanceM * distanceM);
        double near = ((radiusM - fromAxisM) * (radiusM - fromAxisM)) + (distanceM * distanceM);
        double modulusSquared = 4 * radiusM * fromAxisM / far;
        double complement = Math.Sqrt(near / far);

        double arithmetic = 1;
        double geometric = complement;
        double scaled = 1 / (2 * (1 + complement));
        double weight = 1;
        double sum = 0;
        // (1 − κ²/2)·K − E = K·κ⁴·Σ 2ⁿ⁻¹·(cₙ/κ²)², n from 1: the term n = 0 is what κ²/2 removes.
        while (true)
        {
            double term = weight * scaled * scaled;
            sum += term;
            double mean = (arithmetic + geometric) / 2;
            geometric = Math.Sqrt(arithmetic * geometric);
            arithmetic = mean;
            if (term <= 1e-18 * sum || arithmetic == geometric)
            {
                break;
            }

            scaled = modulusSquared * scaled * scaled / (2 * (arithmetic + geometric));
            weight *= 2;
        }

        double completeFirst = Math.PI / (arithmetic + geometric);
        return 8 * Mu0 * radiusM * radiusM * completeFirst * sum / (Math.PI * far * Math.Sqrt(far));
    }
}
