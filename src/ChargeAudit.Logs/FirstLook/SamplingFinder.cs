using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Finds from a sample of rows how often a log is written and what its readings stand for.</summary>
internal static class SamplingFinder
{
    /// <summary>One run of rows that follow one another, as numbers.</summary>
    internal sealed record Run(double[] TimesS, IReadOnlyDictionary<LogQuantity, double[]> Values);

    /// <summary>What was found.</summary>
    internal sealed record Result(double MedianS, double RowsPerStamp, double StampStepS, SampleKind Kind, string Why,
        ChangeThreshold? Threshold);

    /// <summary>Reads the sample's rows with the plan.</summary>
    public static IReadOnlyList<Run> Read(Table table, TextPlan plan)
    {
        List<Run> runs = [];
        Span<byte> room = stackalloc byte[FieldBytes.Room];
        Span<byte> clockRoom = stackalloc byte[FieldBytes.Room];
        foreach (IReadOnlyList<string[]> rows in table.Runs)
        {
            var time = new TimeReader(plan.Time, plan.Numbers);
            List<double> times = [];
            Dictionary<LogQuantity, List<double>> values = plan.Fields.ToDictionary(f => f.Quantity, _ => new List<double>());
            foreach (string[] row in rows.Where(r => r.Length >= plan.FewestFields))
            {
                ReadOnlySpan<byte> field = plan.Time.Index < 0 ? [] : FieldBytes.Of(row[plan.Time.Index], room);
                ReadOnlySpan<byte> clock = plan.Time.ClockIndex < 0 ? [] : FieldBytes.Of(row[plan.Time.ClockIndex], clockRoom);
                if (!time.TryRead(field, clock, out double rawS))
                {
                    continue;
                }

                times.Add(rawS);
                foreach (FieldPlan f in plan.Fields)
                {
                    ReadOnlySpan<byte> bytes = FieldBytes.Of(row[f.Index], room);
                    double value = NumberField.TryRead(bytes, plan.Numbers, out double number) ? f.Coherent(number)
                        : NumberField.TryReadWithUnit(bytes, plan.Numbers, out number, out var unit) && unit.Kind == f.Kind
                            ? unit.Coherent(number)
                        : double.NaN;
                    values[f.Quantity].Add(value);
                }
            }

            runs.Add(new Run([.. times], values.ToDictionary(v => v.Key, v => v.Value.ToArray())));
        }

        return runs;
    }

    /// <summary>Judges the sample.</summary>
    public static Result Find(IReadOnlyList<Run> runs, double[]? wholeTimesS, LogOptions options, SampleKind? ofFormat)
    {
        IReadOnlyList<double[]> times = wholeTimesS is null ? [.. runs.Select(r => r.TimesS)] : [wholeTimesS];
        double[] steps = [.. times.SelectMany(t => t.Zip(t.Skip(1), (a, b) => b - a)).Where(s => s >= 0)];
        Array.Sort(steps);
        double[] rising = [.. steps.Where(s => s > 0)];
        double median = rising.Length > 0 ? rising[rising.Length / 2] : options.FixedIntervalS ?? 1;
        double rowsPerStamp = 0;
        double stampStep = 0;
        int zeros = steps.Length - rising.Length;
        bool wholeSteps = rising.Length > 0 && rising.All(s => Math.Abs(s - Math.Round(s)) < 1e-6);
        if (zeros >= 0.25 * steps.Length && zeros >= 4 && wholeSteps)
        {
            // The first and last stamp of a run are cut by the sample; whole stamps tell how many rows each holds.
            stampStep = median;
            rowsPerStamp = WholeStampRows(times);
            median = stampStep / rowsPerStamp;
        }

        var (kind, why) = options.Samples is SampleKind told ? (told, "told by the user")
            : options.ChangeThreshold is not null ? (SampleKind.OnChange, "told by the user, with the threshold")
            : ofFormat is SampleKind known ? (known, "the file format says so")
            : OnChangeFinder.IsOnChange(runs, median)
            ? (SampleKind.OnChange, "written on change: long intervals end with changes of about one constant step")
            : (SampleKind.Instantaneous, "nothing in the log says otherwise");
        var threshold = kind == SampleKind.OnChange ? options.ChangeThreshold ?? OnChangeFinder.Threshold(runs, median) : null;
        threshold = threshold is null ? null : threshold with { LookS = LookFinder.LookS(runs) };
        return new Result(median, rowsPerStamp, stampStep, kind, threshold is null
            ? why
            : $"{why}; {Said(threshold, options.ChangeThreshold is not null)}", threshold);
    }

    private static string Said(ChangeThreshold threshold, bool told)
    {
        string amount = threshold.IsShare
            ? Prose.Of($"{100 * threshold.Amount:0.###} % of the reading")
            : Prose.Of($"{threshold.Amount:0.######} {(threshold.Quantity == LogQuantity.Current ? "A" : "W")}");
        return told ? $"changes of less than {amount} go unwritten, as told"
            : $"changes of less than {amount} may go unwritten, as no smaller one was seen";
    }

    private static double WholeStampRows(IReadOnlyList<double[]> runs)
    {
        long rows = 0;
        long stamps = 0;
        foreach (double[] times in runs.Where(t => t.Length > 0))
        {
            int from = Array.FindIndex(times, t => t != times[0]);
            int to = Array.FindLastIndex(times, t => t != times[^1]);
            if (from > 0 && to >= from)
            {
                rows += to - from + 1;
                stamps += times.Skip(from).Take(to - from + 1).Distinct().Count();
            }
        }

        return stamps > 0 ? (double)rows / stamps : runs.Sum(t => t.Length) / (double)Math.Max(1, runs.Sum(t => t.Distinct().Count()));
    }
}
