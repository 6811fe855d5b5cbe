namespace ChargeAudit.LogMaker.Coverage;

/// <summary>Exact limits of a share that was counted.</summary>
/// <remarks>C. J. Clopper, E. S. Pearson, The use of confidence or fiducial limits illustrated in the case of the binomial, Biometrika 26
/// (1934) 404–413.</remarks>
public static class Binomial
{
    /// <summary>The interval of the share behind a count.</summary>
    /// <param name="hits">How many held.</param>
    /// <param name="of">Of how many.</param>
    /// <param name="confidence">Probability, 0 to 1.</param>
    public static (double Low, double High) Interval(int hits, int of, double confidence)
    {
        double tail = (1 - confidence) / 2;
        return (hits == 0 ? 0 : Solve(p => 1 - AtMost(hits - 1, of, p) - tail), hits == of ? 1 : Solve(p => tail - AtMost(hits, of, p)));
    }

    /// <summary>Probability of at most so many hits.</summary>
    public static double AtMost(int hits, int of, double share)
    {
        double sum = 0;
        double log = of * Math.Log(1 - share);
        for (int i = 0; i <= hits; i++)
        {
            sum += Math.Exp(log);
            log += Math.Log((of - i) / (i + 1.0)) + Math.Log(share / (1 - share));
        }

        return Math.Min(1, sum);
    }

    // The root of a function that rises from 0 to 1.
    private static double Solve(Func<double, double> rising)
    {
        (double low, double high) = (1e-12, 1 - 1e-12);
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = rising(middle) > 0 ? (low, middle) : (middle, high);
        }

        return (low + high) / 2;
    }
}
