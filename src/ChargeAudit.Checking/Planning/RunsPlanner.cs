namespace ChargeAudit.Checking.Planning;

/// <summary>
/// How many runs of each of two designs a test on the ratio of their mean energies needs: see <see cref="RatioTestPower"/>.
/// <i>Source:</i> A. C. Tamhane and B. R. Logan, Biometrical Journal 46 (2004) (the test).
/// </summary>
internal static class RunsPlanner
{
    /// <summary>Nobody makes more runs than this. [1]</summary>
    public const int MostRuns = 1000;

    /// <summary>Power with a number of runs.</summary>
    /// <param name="aim">What the test must do.</param>
    /// <param name="repeatability">Scatter of a single run, as a share, alike in both. [1]</param>
    /// <param name="meterShare">Standard uncertainty that the meters bring to the ratio however many runs there are. [1]</param>
    /// <param name="runs">Runs of each, at least 2; positive infinity: the best that runs can do. [1]</param>
    public static double PowerOf(RunsAim aim, double repeatability, double meterShare, double runs)
    {
        ArgumentNullException.ThrowIfNull(aim);
        bool margin = aim.Aim == PlanAim.KeepMargin;

        // The baseline counts as 1. A design just as good is tested against one plus the margin; a different one against 1.
        double limit = margin ? 1 + aim.Share : 1, ratio = margin ? 1 : 1 + aim.Share;
        double one = repeatability * repeatability;
        return RatioTestPower.Of(
            aim.Share, (ratio * ratio * one, limit * limit * one), (runs, runs), meterShare * meterShare, margin
                ? aim.Alpha
                : 0.5 * aim.Alpha, margin);
    }

    /// <summary>Fewest runs of each that reach the power; null where no number does.</summary>
    /// <inheritdoc cref="PowerOf"/>
    public static int? Needed(RunsAim aim, double repeatability, double meterShare)
    {
        ArgumentNullException.ThrowIfNull(aim);
        if (PowerOf(aim, repeatability, meterShare, MostRuns) < aim.Power)
        {
            return null;
        }

        int low = 1, high = MostRuns;
        while (high - low > 1)
        {
            int middle = low + ((high - low) / 2);
            (low, high) = PowerOf(aim, repeatability, meterShare, middle) < aim.Power ? (middle, high) : (low, middle);
        }

        return high;
    }

    /// <summary>Upper bound of a true scatter that was seen in few runs.</summary>
    /// <param name="seen">Scatter seen, as a share. [1]</param>
    /// <param name="degreesOfFreedom">Its degrees of freedom. [1]</param>
    /// <param name="confidence">Probability that the true scatter lies below, between 0 and 1. [1]</param>
    /// <returns>The bound. [1]</returns>
    public static double UpperScatter(double seen, double degreesOfFreedom, double confidence) =>
        seen * Math.Sqrt(degreesOfFreedom / MathNet.Numerics.Distributions.ChiSquared.InvCDF(degreesOfFreedom, 1 - confidence));
}
