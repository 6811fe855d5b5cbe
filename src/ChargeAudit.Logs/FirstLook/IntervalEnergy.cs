using System.Globalization;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
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

    // No charger of a phone takes a kilowatt. Common practice, no source.
    private const double MostW = 1000;

    // This many rows that only rise are not an interval's energies.
    private const int RisingRows = 8;

    /// <summary>Decides; an energy column of intervals becomes one of power.</summary>
    /// <returns>Null where there is none.</returns>
    public static IntervalRows? Settle(string path, ColumnFinder.Found found, Table table, TextPlan plan,
        IReadOnlyList<SamplingFinder.Run> runs, LogOptions options)
    {
        bool Has(LogQuantity q) => Array.Exists(found.Columns, c => c.Quantity == q);
        if (Array.Find(found.Columns, c => c.Quantity == LogQuantity.Energy) is not LogColumn energy)
        {
            return null;
        }

        bool beside = Has(LogQuantity.Power) || (Has(LogQuantity.Voltage) && Has(LogQuantity.Current));
        IntervalBounds.Found bounds = IntervalBounds.Find(found, table, plan);
        bool bounded = bounds.LengthsS.Length > 0;
        bool saysCounter = HeaderWords.Says(energy.Header, "counter");
        bool saysSo = HeaderWords.Says(energy.Header, "per") || HeaderWords.Holds(energy.Header, "per");
        bool saysInterval = saysSo || HeaderWords.Says(energy.Header, "interval");
        var (steps, falls) = Falls(runs);
        bool turns = steps >= FewestSteps && falls >= LeastFalls * steps;
        bool rises = steps >= RisingRows && falls == 0;
        if (saysCounter || rises || !(bounded || turns))
        {
            if (rises && !beside && !saysCounter && (bounded || saysSo || (saysInterval && MayBeFirstOfIntervals(runs))))
            {
                string form = bounded ? "stands beside both ends of an interval"
                    : $"{(saysSo ? "is" : "may be")} named as the energy of an interval";
                found.Ambiguities.Add($"Column {LogErrors.Quote(energy.Header)} {form} and only rises; it was read as a counter.");
            }

            return null;
        }

        if (beside)
        {
            if (!bounded && !saysInterval)
            {
                return null;
            }

            found.Columns[energy.Index]
                = energy with { Quantity = LogQuantity.Ignored, Why = "energies of intervals; readings stand beside" };
            found.Notes
                .Add($"Column {LogErrors.Quote(energy.Header)} holds energies of intervals and no counter; it was left out, as there "
                    + "are readings beside it.");
            return null;
        }

        double lengthS = bounded ? IntervalBounds.OneLength(path, bounds.LengthsS, "energies") : IntervalBounds.RegularStep(runs);
        if (!(lengthS > 0))
        {
            return null;
        }

        if (!bounded && found.UnitAssumed.Contains(energy.Index) && Largest(runs) > MostW * lengthS)
        {
            found.Columns[energy.Index] = energy with { Quantity = LogQuantity.Power, Unit = "W", Factor = 1, Why = "it falls" };
            found.Ambiguities
                .Add($"Column {LogErrors.Quote(energy.Header)} names no unit and falls as no counter does; it was read as a power "
                    + Prose.Of($"in W, since as energies of {lengthS:0.###} s its values would be too large."));
            return null;
        }

        string length = lengthS.ToString("0.###", CultureInfo.InvariantCulture);
        string why = bounded ? "each row has both ends" : saysInterval
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
            || (options.Samples is null && bounds.TimeIsEnd);
        return new IntervalRows(ends ? SampleKind.AverageEnding : SampleKind.AverageStarting, lengthS, AreMeans: false);
    }

    // A counter has mostly counted before, or begins at zero.
    private static bool MayBeFirstOfIntervals(IReadOnlyList<SamplingFinder.Run> runs)
    {
        double[] values = [.. runs[0].Values[LogQuantity.Energy].Where(double.IsFinite).Take(2)];
        return values.Length == 2 && values[0] > 0 && values[0] <= 2 * (values[1] - values[0]);
    }

    private static double Largest(IReadOnlyList<SamplingFinder.Run> runs) =>
        runs.SelectMany(r => r.Values[LogQuantity.Energy]).Where(double.IsFinite).DefaultIfEmpty(0).Max();

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
}
