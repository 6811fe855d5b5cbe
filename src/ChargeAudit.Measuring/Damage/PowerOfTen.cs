namespace ChargeAudit.Measuring.Damage;

/// <summary>The power of ten that a ratio is close to.</summary>
internal static class PowerOfTen
{
    private const double Farthest = 3.5;

    /// <summary>The power; 0: none, or one.</summary>
    /// <param name="ratio">A ratio. [1]</param>
    /// <param name="closeness">By what factor it may be off. [1]</param>
    public static int Near(double ratio, double closeness)
    {
        double log = Math.Log10(ratio);
        return double.IsFinite(log) && Math.Abs(log) < Farthest && Math.Abs(log - Math.Round(log)) < Math.Log10(closeness)
            ? (int)Math.Round(log)
            : 0;
    }
}
