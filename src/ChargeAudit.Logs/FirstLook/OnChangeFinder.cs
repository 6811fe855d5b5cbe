namespace ChargeAudit.Logs.FirstLook;

/// <summary>Tells logs that are written on change from logs with irregular intervals.</summary>
internal static class OnChangeFinder
{
    private const int FewestLong = 4;
    private const double LongTimesMedian = 2;

    /// <summary>
    /// A log is written on change where the change across nearly every long interval is about one and the same step of one quantity: a timer would have
    /// ended them earlier, or with any change or none.
    /// </summary>
    public static bool IsOnChange(IReadOnlyList<SamplingFinder.Run> runs, double medianS)
    {
        foreach (LogQuantity quantity in new[] { LogQuantity.Current, LogQuantity.Power, LogQuantity.Voltage })
        {
            List<double> longChanges = [];
            foreach (var run in runs.Where(r => r.Values.ContainsKey(quantity)))
            {
                double[] values = run.Values[quantity];
                for (int i = 1; i < values.Length; i++)
                {
                    double stepS = run.TimesS[i] - run.TimesS[i - 1];
                    double change = Math.Abs(values[i] - values[i - 1]);
                    if (!double.IsNaN(change) && stepS > LongTimesMedian * medianS)
                    {
                        longChanges.Add(change);
                    }
                }
            }

            if (longChanges.Count >= FewestLong && SameStep(longChanges))
            {
                return true;
            }
        }

        return false;
    }

    private static bool SameStep(List<double> changes)
    {
        double[] sorted = [.. changes.Order()];
        double middle = sorted[sorted.Length / 2];
        return middle > 0 && sorted.Count(c => c >= 0.8 * middle && c <= 1.25 * middle) >= 0.8 * sorted.Length;
    }
}
