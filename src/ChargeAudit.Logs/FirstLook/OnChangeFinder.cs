using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Tells logs that are written on change from logs with irregular intervals. Such a logger may also write a row after a fixed time without
/// a change, as a sign of life; these rows say nothing about the threshold.
/// </summary>
internal static class OnChangeFinder
{
    private const int FewestLong = 4;
    private const double LongTimesMedian = 2;
    private const int FewestSignsOfLife = 3;
    private const double SameLength = 0.1;
    private const double VerySameLength = 0.005;
    private const double ManyLooks = 5;

    // One row in twenty may have been written for another reason: a single sign of life, or a change of another column.
    private const double StrayShare = 0.05;

    // Rows that come at the usual interval, to within this share of it, may have been written by a timer.
    private const double TimerLength = 0.02;

    // Of the rows that no timer wrote, up to one in five may stand for something else: a border between stages, another column.
    private const double OtherRowsShare = 0.2;

    private static readonly LogQuantity[] Watched = [LogQuantity.Current, LogQuantity.Power, LogQuantity.Voltage];

    private readonly record struct Change(double LengthS, double Amount);

    /// <summary>
    /// A log is written on change where the change across nearly every long interval is about one and the same step of one quantity: a
    /// timer would have ended them earlier, or with any change or none.
    /// </summary>
    public static bool IsOnChange(IReadOnlyList<SamplingFinder.Run> runs, double medianS)
    {
        if (NoneIsLong(runs, medianS))
        {
            return false;
        }

        double lookS = LookFinder.LookS(runs);
        return Watched.Any(quantity => StepOfLongIntervals(WithoutSignsOfLife(Changes(runs, quantity), lookS), medianS) is not null);
    }

    /// <summary>
    /// The threshold of a log that is written on change, where it was not stated: no change that was written is smaller, so the smallest is
    /// the most that it can be. Power where the log holds it, else current. Null where nothing changes. A logger that also writes by a
    /// timer writes smaller changes at the timer's interval: those bound nothing.
    /// </summary>
    public static ChangeThreshold? Threshold(IReadOnlyList<SamplingFinder.Run> runs, double medianS)
    {
        var quantity = runs.Any(r => r.Values.ContainsKey(LogQuantity.Power)) ? LogQuantity.Power : LogQuantity.Current;
        List<Change> all = WithoutSignsOfLife(Changes(runs, quantity), LookFinder.LookS(runs));
        double[] changes = [.. all.Select(c => c.Amount).Where(a => a > 0).Order()];
        if (changes.Length == 0)
        {
            return null;
        }

        double smallest = changes[(int)(StrayShare * changes.Length)];
        double[] untimed = [.. all.Where(c => Math.Abs(c.LengthS - medianS) > TimerLength * medianS).Select(c => c.Amount)];
        double step = StepOfLongIntervals(all, medianS) ?? 0;
        bool byTimerToo = untimed.Count(a => a < 0.8 * step) <= OtherRowsShare * untimed.Length;
        return new ChangeThreshold(quantity, byTimerToo ? Math.Max(smallest, step) : smallest);
    }

    // Most logs are written by a timer: even their longest interval is not long beside their shortest.
    private static bool NoneIsLong(IReadOnlyList<SamplingFinder.Run> runs, double medianS)
    {
        double least = medianS, greatest = 0;
        foreach (double[] times in runs.Select(r => r.TimesS))
        {
            for (int i = 1; i < times.Length; i++)
            {
                least = Math.Min(least, times[i] - times[i - 1]);
                greatest = Math.Max(greatest, times[i] - times[i - 1]);
            }
        }

        return greatest <= LongTimesMedian * least;
    }

    private static double? StepOfLongIntervals(List<Change> changes, double medianS)
    {
        // Where signs of life are most of the rows, their interval is the median of all.
        double[] lengths = [.. changes.Select(c => c.LengthS)];
        Array.Sort(lengths);
        double usualS = lengths.Length == 0 ? medianS : Math.Min(medianS, lengths[lengths.Length / 2]);
        double[] longChanges = [.. changes.Where(c => c.LengthS > LongTimesMedian * usualS).Select(c => c.Amount)];
        return longChanges.Length >= FewestLong ? SameStep(longChanges) : null;
    }

    private static List<Change> Changes(IReadOnlyList<SamplingFinder.Run> runs, LogQuantity quantity)
    {
        List<Change> changes = [];
        foreach (var run in runs.Where(r => r.Values.ContainsKey(quantity)))
        {
            double[] values = run.Values[quantity];
            for (int i = 1; i < values.Length; i++)
            {
                double amount = Math.Abs(values[i] - values[i - 1]);
                if (!double.IsNaN(amount))
                {
                    // A difference of printed values carries rounding in its last bits.
                    changes.Add(new(run.TimesS[i] - run.TimesS[i - 1], amount < 1e-9 * Math.Abs(values[i]) ? 0 : amount));
                }
            }
        }

        return changes;
    }

    // Signs of life come after the longest interval that there is, again and again, or a look earlier, and change less than what was
    // written for its change.
    private static List<Change> WithoutSignsOfLife(List<Change> changes, double lookS)
    {
        double longest = changes.Count == 0 ? 0 : changes.Max(c => c.LengthS);
        double least = ((1 - SameLength) * longest) - (longest > ManyLooks * lookS ? lookS : 0);
        Change[] signs = [.. changes.Where(c => c.LengthS >= least)];
        List<Change> others = [.. changes.Where(c => c.LengthS < least)];
        if (others.Count == 0)
        {
            // Nothing but rows of a timer, as in most logs.
            return changes;
        }

        Array.Sort(signs, (a, b) => a.Amount.CompareTo(b.Amount));
        bool again = signs.Length >= FewestSignsOfLife
            || (signs.Length == 2 && Math.Abs(signs[0].LengthS - signs[1].LengthS) <= (VerySameLength * longest) + lookS);
        return again
            && signs[signs.Length / 2].Amount < 0.9 * others.Min(c => c.Amount > 0 ? c.Amount : double.PositiveInfinity)
            ? others
            : changes;
    }

    private static double? SameStep(double[] changes)
    {
        double[] sorted = [.. changes.Order()];
        double middle = sorted[sorted.Length / 2];
        return middle > 0 && sorted.Count(c => c >= 0.8 * middle && c <= 1.25 * middle) >= 0.8 * sorted.Length ? middle : null;
    }
}
