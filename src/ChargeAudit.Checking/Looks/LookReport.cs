using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Checking.Looks;

/// <summary>How often a candidate was looked at, and what that does to the risk of a wrong verdict.</summary>
/// <param name="Number">Which look this is, from 1; zero between the looks of a plan. [1]</param>
/// <param name="Runs">With a plan: runs of the candidate at each of its looks; without: at each look so far, this one last. [1]</param>
/// <param name="Rule">How the plan shares the level out; null without a plan.</param>
/// <param name="Level">One-sided level at which this look is tested by itself. [1]</param>
/// <param name="Risk">Probability of a wrong pass at any of these looks, for a true ratio on the margin; of a wrong fail likewise.
/// [1]</param>
/// <param name="Sentence">The same in words.</param>
public sealed record LookReport(int Number, IReadOnlyList<int> Runs, SpendingRule? Rule, double Level, double Risk, string Sentence)
{
    /// <summary>The report where a plan was made.</summary>
    /// <param name="look">Where the candidate stands.</param>
    /// <param name="alpha">One-sided level of all looks together. [1]</param>
    public static LookReport Of(PlannedLook look, double alpha)
    {
        ArgumentNullException.ThrowIfNull(look);
        string plan = $"{Words(look.Planned)} runs of the candidate, spending as {Name(look.Rule)}";
        string sentence = look.Number == 0
            ? $"The plan looks at {plan}; now there are {look.Runs}, so nothing is decided before {look.NextRuns}."
            : Prose.Of(
                $"Look {look.Number} of the {look.Planned.Count} planned ({plan}): each figure is tested at the one-sided level "
                    + $"{look.Level:G2}, all looks together at {alpha}.")
                + (look.NextRuns is { } next
                    ? $" The next look is at {next} runs."
                    : " It is the last: what is inconclusive now stays so; more runs need a new plan and a new candidate.");
        return new LookReport(look.Number, look.Planned, look.Rule, look.Level, alpha, sentence);
    }

    /// <summary>The report where none was made: the looks that the history holds.</summary>
    /// <param name="runs">Runs of the candidate at each look, this one last. [1]</param>
    /// <param name="baselineRuns">Runs of the baseline. [1]</param>
    /// <param name="alpha">One-sided level of each look. [1]</param>
    public static LookReport Unplanned(IReadOnlyList<int> runs, int baselineRuns, double alpha)
    {
        ArgumentNullException.ThrowIfNull(runs);
        double risk = RiskOf(runs, baselineRuns, alpha);
        string sentence = runs.Count == 1
            ? "This is the first look at this candidate in the history. Looking again after further runs makes wrong verdicts more likely "
                + "unless the looks are "
                + "planned beforehand: looks under [check] in the study."
            : Prose.Of(
                $"This is look {runs.Count} at this candidate ({Words(runs)} runs), and no looks were planned: a wrong pass then happens "
                    + $"with a probability of up to {100 * risk:0.0} % instead of {100 * alpha:0.##} %, a wrong fail likewise. Plan the "
                    + $"looks beforehand: looks under [check] in the study.");
        return new LookReport(runs.Count, runs, null, alpha, risk, sentence);
    }

    /// <summary>Numbers as a list for people.</summary>
    internal static string Words(IReadOnlyList<int> numbers) =>
        numbers.Count == 1 ? $"{numbers[0]}" : $"{string.Join(", ", numbers.Take(numbers.Count - 1))} and {numbers[^1]}";

    private static string Name(SpendingRule rule) => rule == SpendingRule.Pocock ? "Pocock's bounds do" : "O'Brien and Fleming's bounds do";

    private static double RiskOf(IReadOnlyList<int> runs, int baselineRuns, double alpha)
    {
        double Information(int n) => 1 / ((1.0 / n) + (1.0 / Math.Max(1, baselineRuns)));
        double[] rising = [.. runs.Where(n => n > 0).Distinct().Order().Select(n => Information(n) / Information(runs.Max()))];
        double bound = -Normal.InvCDF(0, 1, alpha);
        return rising.Length < 2 ? alpha : GroupSequentialTest.CrossingProbability(rising, [.. rising.Select(_ => bound)]);
    }
}
