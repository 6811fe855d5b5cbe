namespace ChargeAudit.Measuring.Segmentation;

/// <summary>Mean over a stretch of time of power that is given in pieces. Pure.</summary>
internal static class PieceMean
{
    /// <summary>The mean; zero where no piece lies in the stretch. [W]</summary>
    /// <param name="pieces">Start, end and mean power of each. [s, s, W]</param>
    /// <param name="fromS">Start of the stretch. [s]</param>
    /// <param name="toS">Its end. [s]</param>
    public static double Of(IEnumerable<(double StartS, double EndS, double PowerW)> pieces, double fromS, double toS)
    {
        double energyJ = 0, timeS = 0;
        foreach (var (startS, endS, powerW) in pieces)
        {
            double sharedS = Math.Min(toS, endS) - Math.Max(fromS, startS);
            if (sharedS > 0)
            {
                energyJ += powerW * sharedS;
                timeS += sharedS;
            }
        }

        return timeS > 0 ? energyJ / timeS : 0;
    }
}
