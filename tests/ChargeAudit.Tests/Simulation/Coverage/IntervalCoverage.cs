using System.Globalization;
using System.Text;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation.Coverage;

/// <summary>One figure of one simulated study: the truth and what an evaluation of its logs says.</summary>
/// <param name="Figure">Name of the figure, such as <c>overheadRatio/wall</c>.</param>
/// <param name="Truth">The true value.</param>
/// <param name="Found">The value with its uncertainty.</param>
public sealed record CoverageTrial(string Figure, double Truth, Measured Found);

/// <summary>How often the intervals of one figure held the truth.</summary>
/// <param name="Figure">Name of the figure.</param>
/// <param name="Trials">Studies in which the figure had an interval.</param>
/// <param name="Held">Of these, those whose interval held the truth.</param>
/// <param name="Unknown">Studies in which it had none.</param>
/// <param name="MeanHalfWidthPercent">Mean half-width of the interval, in percent of the truth. [%]</param>
/// <param name="RootMeanSquareErrorPercent">Root mean square of the error, in percent of the truth. [%]</param>
public sealed record CoverageRow(string Figure, int Trials, int Held, int Unknown, double MeanHalfWidthPercent,
    double RootMeanSquareErrorPercent)
{
    /// <summary>Share of the intervals that held the truth. [1]</summary>
    public double Share => Trials == 0 ? double.NaN : (double)Held / Trials;
}

/// <summary>
/// Checks intervals against the truth: many seeds of many scenarios are simulated and evaluated, and it is counted how often a 95 %
/// interval holds what it should. The evaluation is passed in, so that this knows nothing of how energies are found.
/// </summary>
public static class IntervalCoverage
{
    /// <summary>Counts.</summary>
    /// <param name="scenarios">Scenarios with their names.</param>
    /// <param name="seeds">Seeds, each tried with each scenario.</param>
    /// <param name="evaluate">Turns a study's logs into figures beside their truth.</param>
    /// <param name="coverage">Probability of the intervals. [1]</param>
    /// <returns>One row a figure, in order of its name.</returns>
    public static IReadOnlyList<CoverageRow> Count(
        IEnumerable<SimulationScenario> scenarios, IReadOnlyList<ulong> seeds, Func<SimulatedStudy, IEnumerable<CoverageTrial>> evaluate,
            double coverage = 0.95)
    {
        ArgumentNullException.ThrowIfNull(scenarios);
        ArgumentNullException.ThrowIfNull(seeds);
        ArgumentNullException.ThrowIfNull(evaluate);
        List<CoverageTrial> trials = [];
        foreach (SimulationScenario scenario in scenarios)
        {
            foreach (ulong seed in seeds)
            {
                // A seed of its own for each scenario: one seed for all would give meters of one name the same errors in each, and far
                // fewer independent trials.
                ulong own = new RandomSource(seed).Named(scenario.Title).NextBits();
                trials.AddRange(evaluate(Simulator.Run(scenario, own)));
            }
        }

        return Rows(trials, coverage);
    }

    /// <summary>Sums trials up.</summary>
    /// <param name="trials">The trials.</param>
    /// <param name="coverage">Probability of the intervals. [1]</param>
    /// <returns>One row a figure, in order of its name.</returns>
    public static IReadOnlyList<CoverageRow> Rows(IEnumerable<CoverageTrial> trials, double coverage = 0.95)
    {
        ArgumentNullException.ThrowIfNull(trials);
        SortedDictionary<string, Tally> tallies = new(StringComparer.Ordinal);
        foreach (CoverageTrial trial in trials)
        {
            tallies[trial.Figure] = tallies.GetValueOrDefault(trial.Figure).With(trial, coverage);
        }

        return [.. tallies.Select(t => t.Value.Row(t.Key))];
    }

    /// <summary>The rows as a table in Markdown.</summary>
    /// <param name="rows">The rows.</param>
    /// <returns>The table; lines end in line feed.</returns>
    public static string ToMarkdown(IEnumerable<CoverageRow> rows)
    {
        ArgumentNullException.ThrowIfNull(rows);
        StringBuilder text =
            new("| figure | intervals | held the truth | without interval | mean half-width | root mean square error |\n"
            + "|---|---|---|---|---|---|\n");
        foreach (CoverageRow row in rows)
        {
            text.Append(CultureInfo.InvariantCulture,
                $"| {row.Figure} | {row.Trials} | {100 * row.Share:F1} % | {row.Unknown} | {row.MeanHalfWidthPercent:F2} % | "
                + $"{row.RootMeanSquareErrorPercent:F2} % |\n");
        }

        return text.ToString();
    }

    private readonly record struct Tally(int Trials, int Held, int Unknown, double HalfWidths, double Squares)
    {
        public Tally With(CoverageTrial trial, double coverage)
        {
            double error = (trial.Found.Value - trial.Truth) / trial.Truth;
            if (trial.Found.Interval(coverage) is not { } interval)
            {
                return this with { Unknown = Unknown + 1, Squares = Squares + (error * error) };
            }

            bool held = interval.Low <= trial.Truth && trial.Truth <= interval.High;
            return new Tally(Trials + 1, Held + (held ? 1 : 0), Unknown, HalfWidths
                + ((interval.High - interval.Low) / 2 / Math.Abs(trial.Truth)), Squares + (error * error));
        }

        public CoverageRow Row(string figure) =>
            new(figure, Trials, Held, Unknown, 100 * HalfWidths / Trials, 100 * Math.Sqrt(Squares / (Trials + Unknown)));
    }
}
