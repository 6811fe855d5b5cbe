namespace ChargeAudit.Coils;

/// <summary>
/// Cosines of evenly spaced angles from square roots, sums and products alone. IEEE 754 rounds these the same on every machine, which it
/// does not ask of a library's cosine; so what is worked out with them is the same everywhere, to the last bit.
/// </summary>
internal static class UnitCircle
{
    /// <summary>Cosines of the angles 2π·i/<paramref name="count"/>, i from 0.</summary>
    /// <param name="count">How many; a power of two, 4 or more.</param>
    /// <returns>As many cosines; error below 1e-15.</returns>
    public static double[] Cosines(int count)
    {
        double[] cosines = [1, 0, -1, 0];
        double[] sines = [0, 1, 0, -1];
        double half = 0;
        while (cosines.Length < count)
        {
            // Half-angle rule, from a quarter turn downwards: the cosine grows, so nothing cancels.
            half = Math.Sqrt((1 + half) / 2);
            double halfSine = Math.Sqrt((1 - half) * (1 + half));
            double[] finerCosines = new double[2 * cosines.Length];
            double[] finerSines = new double[finerCosines.Length];
            for (int i = 0; i < cosines.Length; i++)
            {
                finerCosines[2 * i] = cosines[i];
                finerSines[2 * i] = sines[i];
                finerCosines[(2 * i) + 1] = (cosines[i] * half) - (sines[i] * halfSine);
                finerSines[(2 * i) + 1] = (sines[i] * half) + (cosines[i] * halfSine);
            }

            cosines = finerCosines;
            sines = finerSines;
        }

        return cosines;
    }
}
