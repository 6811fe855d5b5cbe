namespace ChargeAudit.Simulation.Randomness;

/// <summary>Functions from sums, products and quotients alone: a library's logarithm may differ in its last bit from machine to machine,
/// these do not.</summary>
internal static class PortableMath
{
    private const double Ln2 = 0.693147180559945309;

    /// <summary>The exponential function of a number that is not far from zero.</summary>
    /// <param name="x">From −1 to 1.</param>
    public static double Exp(double x)
    {
        double sum = 1;
        for (int n = 22; n >= 1; n--)
        {
            sum = 1 + (x / n * sum);
        }

        return sum;
    }

    /// <summary>Natural logarithm, right to a few units of the last place.</summary>
    /// <param name="x">A normal number above 0.</param>
    /// <returns>Its logarithm.</returns>
    public static double Log(double x)
    {
        long bits = BitConverter.DoubleToInt64Bits(x);
        long exponent = ((bits >> 52) & 0x7FF) - 1023;
        double mantissa = BitConverter.Int64BitsToDouble((bits & 0xFFFFFFFFFFFFF) | (1023L << 52));
        if (mantissa > 1.4142135623730951)
        {
            mantissa /= 2;
            exponent++;
        }

        // ln m = 2·(s + s³/3 + s⁵/5 + …) with s = (m − 1)/(m + 1), |s| ≤ 0.172.
        double s = (mantissa - 1) / (mantissa + 1);
        double square = s * s;
        double series = 0;
        for (int n = 23; n >= 1; n -= 2)
        {
            series = (series * square) + (1.0 / n);
        }

        return (exponent * Ln2) + (2 * s * series);
    }
}
