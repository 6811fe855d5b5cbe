using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Of several counters of one quantity, such as one for charging and one for discharging, the one that the readings agree with; where there
/// are no readings, the one that moves. Energy and charge are judged alike, so both are of the same direction.
/// </summary>
internal static class CounterColumns
{
    /// <summary>The counter taken by its header has to be off by more than this factor. [1]</summary>
    private const double Off = 2;

    /// <summary>Another has to fit within this factor. [1]</summary>
    private const double Fits = 1.25;

    /// <summary>Settles both quantities.</summary>
    /// <param name="found">Columns as found by their headers; changed where another one fits.</param>
    /// <param name="runs">Rows of the first look.</param>
    /// <param name="read">Reads the first look's rows with the columns as they then are.</param>
    /// <returns>Whether a column is now understood differently.</returns>
    public static bool Settle(ColumnFinder.Found found, IReadOnlyList<SamplingFinder.Run> runs,
        Func<IReadOnlyList<SamplingFinder.Run>> read) =>
        Settle(found, LogQuantity.Energy, runs, read) | Settle(found, LogQuantity.Charge, runs, read);

    private static bool Settle(ColumnFinder.Found found, LogQuantity quantity, IReadOnlyList<SamplingFinder.Run> runs,
        Func<IReadOnlyList<SamplingFinder.Run>> read)
    {
        int taken = Array.FindIndex(found.Columns, c => c.Quantity == quantity);
        if (taken < 0 || !found.Others.TryGetValue(quantity, out int[]? others))
        {
            return false;
        }

        double byReadings = Integral(runs, quantity);
        double before = Advance(runs, quantity);
        if (byReadings > 0 ? IsWithin(before / byReadings, Off) : before > 0)
        {
            return false;
        }

        var first = found.Columns[taken];
        foreach (int other in others)
        {
            var was = found.Columns[other];
            found.Columns[taken] = first with { Quantity = LogQuantity.Ignored, Why = "another counter agrees with the readings" };
            found.Columns[other] = was.Unit.Length > 0 ? was with { Quantity = quantity } : was with
            {
                Quantity = quantity,
                Unit = first.Unit,
                Factor = first.Factor,
            };
            double advance = Advance(read(), quantity);
            if (byReadings > 0 ? IsWithin(advance / byReadings, Fits) : advance > 0)
            {
                found.Columns[other] = found.Columns[other] with
                {
                    Why = byReadings > 0
                        ? "of several counters the one that agrees with the readings"
                        : "of several counters the one that moves",
                };
                found.Notes.Add(
                    $"Column {LogErrors.Quote(was.Header)} was taken for {ColumnFinder.Word(quantity)} after all, not "
                    + $"{LogErrors.Quote(first.Header)}: "
                    + $"{(byReadings > 0 ? "it is the one that the readings agree with" : "the other does not move")}.");
                return true;
            }

            found.Columns[other] = was;
            found.Columns[taken] = first;
        }

        return false;
    }

    private static bool IsWithin(double ratio, double factor) => ratio > 1 / factor && ratio < factor;

    private static double Advance(IReadOnlyList<SamplingFinder.Run> runs, LogQuantity quantity)
    {
        double advance = 0;
        foreach (var run in runs.Where(r => r.Values.ContainsKey(quantity)))
        {
            double[] values = [.. run.Values[quantity].Where(double.IsFinite)];
            for (int i = 1; i < values.Length; i++)
            {
                advance += Math.Max(0, values[i] - values[i - 1]);
            }
        }

        return advance;
    }

    // Energy by power, or by voltage and current; charge by current. Readings of a discharge are negative and fit no counter of charging.
    private static double Integral(IReadOnlyList<SamplingFinder.Run> runs, LogQuantity quantity)
    {
        double sum = 0;
        foreach (var run in runs)
        {
            double[]? rate = Rate(run, quantity);
            for (int i = 1; rate is not null && i < rate.Length; i++)
            {
                double part = 0.5 * (rate[i] + rate[i - 1]) * (run.TimesS[i] - run.TimesS[i - 1]);
                sum += double.IsFinite(part) ? part : 0;
            }
        }

        return sum;
    }

    private static double[]? Rate(SamplingFinder.Run run, LogQuantity quantity)
    {
        run.Values.TryGetValue(LogQuantity.Current, out double[]? current);
        if (quantity == LogQuantity.Charge)
        {
            return current;
        }

        return run.Values.TryGetValue(LogQuantity.Power, out double[]? power) ? power
            : current is not null && run.Values.TryGetValue(LogQuantity.Voltage, out double[]? voltage)
                ? [.. voltage.Zip(current, (v, a) => v * a)]
            : null;
    }
}
