using System.Runtime.InteropServices;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;

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
        if (plan.Fields.Count > 0 && plan.Fields.All(f => table.Plain.At(f.Index, plan.Numbers.Decimal) is not null))
        {
            return ReadPlain(table, plan);
        }

        List<Run> runs = [];
        Span<byte> room = stackalloc byte[FieldBytes.Room];
        Span<byte> clockRoom = stackalloc byte[FieldBytes.Room];
        foreach (IReadOnlyList<string[]> rows in table.Runs)
        {
            var time = new TimeReader(plan.Time, plan.Numbers);
            int count = 0;
            var times = new double[rows.Count];
            double[][] values = [.. plan.Fields.Select(_ => new double[rows.Count])];
            foreach (string[] row in rows)
            {
                if (row.Length < plan.FewestFields)
                {
                    continue;
                }

                ReadOnlySpan<byte> field = plan.Time.Index < 0 ? [] : FieldBytes.Of(row[plan.Time.Index], room);
                ReadOnlySpan<byte> clock = plan.Time.ClockIndex < 0 ? [] : FieldBytes.Of(row[plan.Time.ClockIndex], clockRoom);
                if (!time.TryRead(field, clock, out double rawS))
                {
                    continue;
                }

                times[count] = rawS;
                for (int i = 0; i < plan.Fields.Count; i++)
                {
                    FieldPlan f = plan.Fields[i];
                    ReadOnlySpan<byte> bytes = FieldBytes.Of(row[f.Index], room);
                    double value = NumberField.TryRead(bytes, plan.Numbers, out double number) ? f.Coherent(number)
                        : NumberField.TryReadWithUnit(bytes, plan.Numbers, out number, out var unit) && unit.Kind == f.Kind
                            ? unit.Coherent(number)
                        : double.NaN;
                    values[i][count] = value;
                }

                count++;
            }

            runs.Add(RunOf(plan, times, values, count));
        }

        return runs;
    }

    // The numbers have been read; it remains to say what they are, and when.
    private static List<Run> ReadPlain(Table table, TextPlan plan)
    {
        List<Run> runs = [];
        Span<byte> room = stackalloc byte[FieldBytes.Room];
        Span<byte> clockRoom = stackalloc byte[FieldBytes.Room];
        PlainColumn[] columns = [.. plan.Fields.Select(f => table.Plain.At(f.Index, plan.Numbers.Decimal)!)];
        PlainColumn? stamps = table.Plain.At(plan.Time.Index, plan.Numbers.Decimal);
        for (int run = 0; run < table.Runs.Count; run++)
        {
            SampleRows rows = table.Runs[run];
            var time = new TimeReader(plan.Time, plan.Numbers);
            bool asNumbers = stamps is not null && time.TakesNumbers;
            int count = 0;
            var times = new double[rows.Count];
            double[][] values = [.. plan.Fields.Select(_ => new double[rows.Count])];
            for (int row = 0; row < rows.Count; row++)
            {
                bool read = asNumbers ? time.TryPlace(stamps!.Values[run][row], out double rawS) : time.TryRead(
                    plan.Time.Index < 0 ? [] : FieldBytes.Of(rows.Field(row, plan.Time.Index), room),
                    plan.Time.ClockIndex < 0 ? [] : FieldBytes.Of(rows.Field(row, plan.Time.ClockIndex), clockRoom), out rawS);
                if (read)
                {
                    times[count] = rawS;
                    for (int i = 0; i < columns.Length; i++)
                    {
                        values[i][count] = plan.Fields[i].Coherent(columns[i].Values[run][row]);
                    }

                    count++;
                }
            }

            runs.Add(RunOf(plan, times, values, count));
        }

        return runs;
    }

    private static Run RunOf(TextPlan plan, double[] times, double[][] values, int count)
    {
        var byQuantity = new Dictionary<LogQuantity, double[]>(values.Length);
        for (int i = 0; i < values.Length; i++)
        {
            byQuantity.Add(plan.Fields[i].Quantity, Cut(values[i]));
        }

        return new Run(Cut(times), byQuantity);

        double[] Cut(double[] all) => count == all.Length ? all : all[..count];
    }

    /// <summary>Judges the sample.</summary>
    public static Result Find(IReadOnlyList<Run> runs, double[]? wholeTimesS, LogOptions options, SampleKind? ofFormat)
    {
        IReadOnlyList<double[]> times = wholeTimesS is null ? [.. runs.Select(r => r.TimesS)] : [wholeTimesS];
        double[] steps = StepsOf(times);
        double[] rising = steps[Math.Max(0, Array.FindIndex(steps, s => s > 0))..];
        rising = rising.Length > 0 && rising[0] > 0 ? rising : [];
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

        var (kind, why) = options.Samples is SampleKind told ? (told, "stated by the user")
            : options.ChangeThreshold is not null ? (SampleKind.OnChange, "stated by the user, with the threshold")
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

    // From row to row, in order of length; what goes back is left out.
    private static double[] StepsOf(IReadOnlyList<double[]> times)
    {
        var steps = new List<double>(times.Sum(t => t.Length));
        bool inOrder = true;
        foreach (double[] run in times)
        {
            for (int i = 1; i < run.Length; i++)
            {
                double step = run[i] - run[i - 1];
                if (step >= 0)
                {
                    inOrder &= steps.Count == 0 || step >= steps[^1];
                    steps.Add(step);
                }
            }
        }

        if (!inOrder)
        {
            RisingOrder.Sort(CollectionsMarshal.AsSpan(steps));
        }

        return [.. steps];
    }

    private static string Said(ChangeThreshold threshold, bool told)
    {
        string amount = threshold.IsShare
            ? Prose.Of($"{100 * threshold.Amount:0.###} % of the reading")
            : Prose.Of($"{threshold.Amount:0.######} {(threshold.Quantity == LogQuantity.Current ? "A" : "W")}");
        return told ? $"changes of less than {amount} are not written, as stated"
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
