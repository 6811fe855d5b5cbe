namespace ChargeAudit.Measuring;

/// <summary>A charge that was broken off at once.</summary>
internal static class FalseStart
{
    /// <summary>A charge that moves less than this share of the greatest one in its log is a false start, not a second charge.
    /// [1]</summary>
    public const double LargestShare = 0.05;
}
