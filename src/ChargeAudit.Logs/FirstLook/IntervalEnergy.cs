using System.Globalization;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Tells energies of intervals from a counter. A counter never falls; energies of intervals do, stand beside a start and an end, or are
/// named as such. They are read as the mean power of their interval, so that nothing is added twice and a missing row is a hole.
/// </summary>
internal static class IntervalEnergy
{
    // A counter turns where it is reset; energies of intervals turn all the time.
    private const double LeastFalls = 0.2;
    private const int FewestSteps = 4;

    // This many rows that only rise are not an interval's energies.
    private const int RisingRows = 8;

    // Intervals are of one length to within this share; nine of ten have to be where no end is written.
    private const double SameLength = 0.002;
    private const double RegularShare = 0.9;

    /// <summary>What was decided.</summary>
    /// <param name="Kind">What the mean power stands for.</param>
    /// <param name="LengthS">Length of an interval. [s]</param>
    public sealed record Result(SampleKind Kind, double LengthS)
    {
        /// <summary>The form in words.</summary>
        public string Words => Prose.Of($"energies of intervals of {LengthS:0.###} s");
    }

    /// <summary>Decides; an energy column of intervals becomes one of power.</summary>
    /// <returns>Null where there is none.</returns>
    public static Result? Settle(string path, ColumnFinder.Found found, Table table, TextPlan plan, IReadOnlyList<SamplingFinder.Run> runs,
        LogOptions options)
    {
        bool Has(LogQuantity q) => Array.Exists(found.Columns, c => c.Quantity == q);
        if (Array.Find(found.Columns, c => c.Quantity == LogQuantity.Energy) is not LogColumn energy || Has(LogQuantity.Power)
            || (Has(LogQuantity.Voltage) && Has(LogQuantity.Current)))
        {
            return null;
        }

        double[] lengths = Lengths(table, plan, EndOf(table, plan));
        bool bounded = lengths.Length > 0;
        bool saysCounter = HeaderWords.Says(energy.Header, "counter");
        bool saysInterval = HeaderWords.Says(energy.Header, "interval");
        var (steps, falls) = Falls(runs);
        bool turns = steps >= FewestSteps && falls >= LeastFalls * steps;
        bool rises = steps >= RisingRows && falls == 0;
        if (saysCounter || rises || !(bounded || turns))
        {
            if (bounded && rises)
            {
                found.Ambiguities.Add(
                    $"Column {LogErrors.Quote(energy.Header)} stands beside a start and an end and only rises; it was read as a counter.");
            }

            return null;
        }

        double lengthS = bounded ? OneLength(path, lengths) : RegularStep(runs);
        if (!(lengthS > 0))
        {
            return null;
        }

        string length = lengthS.ToString("0.###", CultureInfo.InvariantCulture);
        string why = bounded ? "each row has a start and an end" : saysInterval
            ? "it falls, and its name says so"
            : "it falls again and again, as no counter does";
        (bounded || saysInterval ? found.Notes : found.Ambiguities)
            .Add($"Column {LogErrors.Quote(energy.Header)} was read as the energy of each interval of "
            + $"{WrittenMarks.Number(length)} s, not as a counter: {why}.");
        found.Columns[energy.Index] = energy with
        {
            Quantity = LogQuantity.Power,
            Unit = $"{energy.Unit} per {length} s",
            Factor = energy.Factor / lengthS,
            Why = $"energy of an interval: {why}",
        };
        bool ends = options.Samples == SampleKind.AverageEnding
            || (!bounded && options.Samples is null && HeaderWords.Says(found.Columns[plan.Time.Index].Header, "end"));
        return new Result(ends ? SampleKind.AverageEnding : SampleKind.AverageStarting, lengthS);
    }

    private static (int Steps, int Falls) Falls(IReadOnlyList<SamplingFinder.Run> runs)
    {
        int steps = 0, falls = 0;
        foreach (SamplingFinder.Run run in runs)
        {
            double[] values = DataChecks.WithoutBadReadings([.. run.Values[LogQuantity.Energy].Where(double.IsFinite)]);
            for (int i = 1; i < values.Length; i++)
            {
                steps += values[i] != values[i - 1] ? 1 : 0;
                falls += values[i] < values[i - 1] ? 1 : 0;
            }
        }

        return (steps, falls);
    }

    private static int EndOf(Table table, TextPlan plan) => plan.Time.Index < 0 || plan.Time.ClockIndex >= 0
        ? -1
        : Enumerable.Range(0, table.Header.Count)
            .FirstOrDefault(i => i != plan.Time.Index && HeaderWords.IsOnly(table.Header[i], "end"), -1);

    // Lengths from start to end of the rows looked at; none where an end cannot be read as the start is.
    private static double[] Lengths(Table table, TextPlan plan, int endIndex)
    {
        if (endIndex < 0)
        {
            return [];
        }

        Span<byte> room = stackalloc byte[FieldBytes.Room];
        List<double> lengths = [];
        foreach (string[] row in table.Runs[0].Where(r => r.Length > Math.Max(endIndex, plan.Time.Index)))
        {
            var time = new TimeReader(plan.Time, plan.Numbers);
            if (time.TryRead(FieldBytes.Of(row[plan.Time.Index], room), [], out double startS)
                && time.TryRead(FieldBytes.Of(row[endIndex], room), [], out double endS) && endS > startS)
            {
                lengths.Add(endS - startS);
            }
        }

        return lengths.Count >= 0.5 * table.Runs[0].Count ? [.. lengths] : [];
    }

    private static double OneLength(string path, double[] lengths)
    {
        double middle = lengths.Order().ElementAt(lengths.Length / 2);
        double other = lengths.FirstOrDefault(l => Math.Abs(l - middle) > SameLength * middle);
        return other > 0 ? throw LogErrors.IntervalsDiffer(path, middle, other) : middle;
    }

    private static double RegularStep(IReadOnlyList<SamplingFinder.Run> runs)
    {
        double[] steps = [.. runs.SelectMany(r => r.TimesS.Zip(r.TimesS.Skip(1), (a, b) => b - a)).Order()];
        double middle = steps.Length > 0 ? steps[steps.Length / 2] : 0;
        return steps.Count(s => Math.Abs(s - middle) <= SameLength * middle) >= RegularShare * steps.Length ? middle : 0;
    }
}
