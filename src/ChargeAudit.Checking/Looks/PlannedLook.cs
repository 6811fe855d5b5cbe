using System.Collections.Concurrent;
using System.Globalization;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking.Looks;

/// <summary>
/// Where a candidate stands in the plan of its looks. All looks share one baseline, so the information of the difference A − ρ₀B grows as
/// 1/(1/n + 1/m) with n runs of the candidate and m of the baseline, and not as n. Each look is a test of Student's kind at its own nominal
/// level. <i>Source:</i> C. Jennison and B. W. Turnbull, Group Sequential Methods (2000), 3.3 (information), 4.4 (nominal levels with an
/// estimated scatter).
/// </summary>
public sealed class PlannedLook
{
    // Levels of the whole for which the look's own level is tabulated; between them it is interpolated on the logarithms.
    private const int Tabulated = 24;
    private const double LeastLevel = 1e-9;

    // The integrals depend on the plan alone, which all figures of a check share.
    private static readonly ConcurrentDictionary<string, List<(double Whole, double Own)>> Known = new(StringComparer.Ordinal);

    private readonly List<(double Whole, double Own)> _levels;

    private PlannedLook(int number, int runs, CheckRules rules, List<(double Whole, double Own)> levels, double level)
    {
        Number = number;
        Runs = runs;
        Planned = rules.Looks;
        Rule = rules.Spending;
        Level = level;
        _levels = levels;
    }

    /// <summary>Which look it is, from 1; zero where the candidate's runs are none of the plan's numbers, so that nothing may be decided.
    /// [1]</summary>
    public int Number { get; }

    /// <summary>Runs of the candidate so far. [1]</summary>
    public int Runs { get; }

    /// <summary>The plan: runs of the candidate at each look. [1]</summary>
    public IReadOnlyList<int> Planned { get; }

    /// <summary>How the level is shared out.</summary>
    public SpendingRule Rule { get; }

    /// <summary>One-sided level of this look by itself; zero between looks. [1]</summary>
    public double Level { get; }

    /// <summary>Runs at the next look; null where there is none. [1]</summary>
    public int? NextRuns
    {
        get
        {
            int next = Planned.FirstOrDefault(n => n > Runs);
            return next > 0 ? next : null;
        }
    }

    /// <summary>Where a candidate stands.</summary>
    /// <param name="rules">The rules, with a plan.</param>
    /// <param name="alpha">One-sided level of all looks together. [1]</param>
    /// <param name="runs">Runs of the candidate. [1]</param>
    /// <param name="baselineRuns">Runs of the baseline, the same at every look. [1]</param>
    public static PlannedLook At(CheckRules rules, double alpha, int runs, int baselineRuns)
    {
        ArgumentNullException.ThrowIfNull(rules);
        int last = rules.Looks[^1];

        // More runs than were planned are the last look all the same: nothing is left to spend after it.
        var made = rules.Looks.Where(n => n < Math.Min(runs, last)).Append(runs >= last ? runs : rules.Looks.FirstOrDefault(n => n == runs))
            .ToList();
        if (made[^1] == 0)
        {
            return new PlannedLook(0, runs, rules, [], 0);
        }

        double most = Math.Max(last, runs);
        double[] fractions = [.. made.Select(n => Information(n, baselineRuns) / Information(most, baselineRuns))];
        string key = string.Join(' ', fractions.Append(alpha).Append((int)rules.Spending)
            .Select(x => x.ToString("R", CultureInfo.InvariantCulture)));
        var levels = Known.GetOrAdd(key, _ => Levels(rules.Spending, alpha, fractions));
        return new PlannedLook(made.Count, runs, rules, levels, levels.First(l => l.Whole == alpha).Own);
    }

    /// <summary>
    /// The level of all looks together at which this look would just have decided: compares with α as a plain probability does, so that
    /// Holm's adjustment applies to it.
    /// </summary>
    /// <param name="p">One-sided probability found at this look by itself. [1]</param>
    public double Adjusted(double p)
    {
        for (int i = 0; i < _levels.Count; i++)
        {
            if (p <= _levels[i].Own)
            {
                if (i == 0)
                {
                    return _levels[0].Whole;
                }

                var (before, after) = (_levels[i - 1], _levels[i]);
                double from = Math.Log(Math.Max(before.Own, double.Epsilon)), to = Math.Log(after.Own);
                double share = (Math.Log(p) - from) / (to - from);
                return Math.Exp(Math.Log(before.Whole) + (share * Math.Log(after.Whole / before.Whole)));
            }
        }

        return 1;
    }

    private static List<(double Whole, double Own)> Levels(SpendingRule rule, double alpha, double[] fractions)
    {
        double low = Math.Log(LeastLevel), high = Math.Log(CheckRules.GreatestAlpha);
        return
        [
            .. Enumerable.Range(0, Tabulated).Select(i => Math.Exp(low + ((high - low) * i / (Tabulated - 1)))).Append(alpha).Distinct()
                .Order()
                .Select(a => (a, GroupSequentialTest.Levels(rule, a, fractions)[^1])),
        ];
    }

    private static double Information(double runs, int baselineRuns) => 1 / ((1 / runs) + (1.0 / baselineRuns));
}
