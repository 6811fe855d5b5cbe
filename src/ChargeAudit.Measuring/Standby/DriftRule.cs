namespace ChargeAudit.Measuring.Standby;

/// <summary>
/// How much a power may drift and still count as stable, and what a meter must be able to do.
/// <i>Source:</i> IEC 62301:2011 (Ed. 2), 4.4 and 5.3.2; clause numbers and limits from memory.
/// </summary>
public static class DriftRule
{
    /// <summary>Greatest drift allowed: 10 mW/h up to 1 W, above that 1 % of the power in an hour. [W/h]</summary>
    /// <param name="powerW">The power. [W]</param>
    public static double LimitWPerH(double powerW) => Math.Abs(powerW) <= 1 ? 0.010 : 0.01 * Math.Abs(powerW);

    /// <summary>Slope of a straight line through equally spaced readings. [W/h]</summary>
    /// <param name="powerW">Readings. [W]</param>
    /// <param name="intervalS">Time between them. [s]</param>
    public static double SlopeWPerH(ReadOnlySpan<double> powerW, double intervalS)
    {
        double middle = 0.5 * (powerW.Length - 1);
        double cross = 0;
        double spread = 0;
        for (int i = 0; i < powerW.Length; i++)
        {
            cross += (i - middle) * powerW[i];
            spread += (i - middle) * (i - middle);
        }

        return spread > 0 ? cross / spread / intervalS * 3600 : 0;
    }

    /// <summary>Greatest expanded uncertainty (95 %) that a meter may have. [W]</summary>
    /// <param name="powerW">The power. [W]</param>
    /// <param name="maximumCurrentRatio">Crest factor of the current divided by the power factor. [1]</param>
    public static double AllowedUncertaintyW(double powerW, double maximumCurrentRatio)
    {
        double share = maximumCurrentRatio <= 10 ? 0.02 : 0.02 * (1 + (0.08 * (maximumCurrentRatio - 10)));
        double relative = share * powerW;
        return powerW >= 1 ? relative : maximumCurrentRatio <= 10 ? 0.02 : Math.Max(0.02, relative);
    }

    /// <summary>Coarsest resolution that a meter may have. [W]</summary>
    /// <param name="powerW">The power. [W]</param>
    public static double AllowedResolutionW(double powerW) => powerW <= 10 ? 0.01 : powerW <= 100 ? 0.1 : 1;
}
