using ChargeAudit.Checking.Drift;
using ChargeAudit.Checking.Looks;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>
/// The regression check: non-inferiority of a candidate to its baseline, figure by figure, each within its own margin. The whole passes
/// where every figure passes at α (an intersection–union test, which needs no adjustment) and fails where any fails at its level adjusted
/// by Holm.
/// </summary>
public static class Checker
{
    /// <summary>Compares two designs.</summary>
    /// <param name="candidate">The design under test.</param>
    /// <param name="baseline">What it must not be worse than.</param>
    /// <param name="rules">Margins, level and figures.</param>
    /// <exception cref="InputException">The baseline cannot be compared, nothing is left to compare, or a margin is missing.</exception>
    public static CheckResult Run(MeasuredDesign candidate, MeasuredDesign baseline, CheckRules rules)
    {
        ArgumentNullException.ThrowIfNull(candidate);
        ArgumentNullException.ThrowIfNull(baseline);
        ArgumentNullException.ThrowIfNull(rules);
        foreach (var figure in rules.Figures.Where(f => rules.MarginOf(f) is null))
        {
            throw new InputException(InputProblem.Usage,
                $"no margin is given for {StableName.Of(figure)}; give one, or margin = \"2 %\" under [check] in the study")
            {
                Remedy = Remedy.Margin,
            };
        }

        DesignMatch.Devices(candidate, baseline);
        double alpha = rules.Alpha ?? CheckRules.UsualAlpha;
        var looks = new List<PlannedLook>();
        var left = new List<string>();
        var figures = new List<FigureCheck>();
        foreach (var method in candidate.Methods)
        {
            if (baseline.Methods.FirstOrDefault(m => m.Name == method.Name) is not { } before)
            {
                left.Add($"{method.Name} is not in the baseline.");
            }
            else if (HasRunsOfItsOwn(method, baseline, left))
            {
                DesignMatch.Methods(method, before);
                var look = rules.Looks.Count == 0 ? null : PlannedLook.At(rules, alpha, method.Runs.Count, before.Runs.Count);
                looks.AddRange(look is null ? [] : [look]);
                figures.AddRange(new MethodPair(candidate, baseline, method, before).Figures(rules, alpha, look, left));
            }
        }

        left.AddRange(baseline.Methods.Where(m => candidate.Methods.All(c => c.Name != m.Name))
            .Select(m => $"{m.Name} is not in the study."));
        if (figures.Count == 0)
        {
            throw new InputException(InputProblem.Unusable,
                $"there is nothing to compare with the baseline: {string.Join(" ", left).TrimEnd('.')}; measure the candidate with methods "
                + "of the same names");
        }

        var adjusted = Adjusted(figures, alpha);
        var report = looks.Count == 0 ? null : LookReport.Of(looks.MaxBy(l => l.Runs)!, alpha);
        string? wired = candidate.Methods.FirstOrDefault(m => m.Name == candidate.Reference && m.Kind == MethodKind.Wired)?.Name;
        var verdict = adjusted.Any(f => f.FailsAdjusted) ? CheckVerdict.Fail
            : adjusted.All(f => f.Verdict == CheckVerdict.Pass) ? CheckVerdict.Pass
            : CheckVerdict.Inconclusive;
        return new CheckResult
        {
            Verdict = verdict,
            Alpha = alpha,
            Figures = adjusted,
            NotCompared = left,
            Told = new(() => [.. CheckReasons.Of(verdict, adjusted, alpha), .. report is null ? [] : new[] { report.Sentence }]),
            Looks = report,
            Plan = report is null ? null : $"{StableName.Of(rules.Spending)} {string.Join(' ', rules.Looks)}",
            CandidateLogs = [.. candidate.LogSha256],
            WiredReference = wired,
            Device = candidate.DeviceName,
            Candidate = candidate.Title,
            CandidateSha256 = candidate.Sha256,
            Baseline = baseline.Title,
            BaselineSha256 = baseline.Sha256,
        };
    }

    /// <summary>
    /// The check with what the history says. A drift that has carried a figure beyond its margin since the first measurement fails the
    /// check, as no single comparison with a baseline that moved along could show it; a drift within the margin is reported and fails
    /// nothing.
    /// </summary>
    /// <param name="result">The check.</param>
    /// <param name="drifts">What was found in the history.</param>
    public static CheckResult WithDrifts(CheckResult result, IReadOnlyList<DriftFinding> drifts)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(drifts);
        return result with
        {
            Drifts = drifts,
            DriftPower = drifts.Count == 0 ? null : DriftPower.For(drifts.Count),
            Verdict = drifts.Any(d => d.BeyondMargin) ? CheckVerdict.Fail : result.Verdict,
            Told = new(() =>
                [.. drifts.Where(d => d.Alarm).OrderByDescending(d => d.BeyondMargin).Select(DriftTest.Sentence), .. result.Reasons]),
        };
    }

    // Logs that the baseline rests on say nothing new; a reference measured once and kept is left out, a mixture would hide a loss.
    private static bool HasRunsOfItsOwn(DesignMethod method, MeasuredDesign baseline, List<string> left)
    {
        var logs = method.Runs.SelectMany(r => r.Points.Values).ToList();
        var old = logs.Where(l => l.Sha256.Any(baseline.LogSha256.Contains)).ToList();
        if (old.Count == 0)
        {
            return true;
        }

        if (old.Count < logs.Count)
        {
            throw new InputException(InputProblem.Unusable,
                $"{old[0].Files[0]}, a log of {method.Name}, is in the baseline already; the candidate needs logs of its own for "
                + "every run");
        }

        left.Add($"{method.Name}: all its logs are the baseline's own, so nothing new was measured.");
        return false;
    }

    private static List<FigureCheck> Adjusted(List<FigureCheck> figures, double alpha)
    {
        var tested = figures.Where(f => f.Test is not null).ToList();
        double[] p = HolmAdjustment.Adjust(tested.Select(f => f.Look?.Adjusted(f.Test!.PBeyond) ?? f.Test!.PBeyond).ToArray());
        var byFigure = tested.Zip(p).ToDictionary(t => t.First, t => t.Second);
        return
        [
            .. figures.Select(f => byFigure.TryGetValue(f, out double adjusted)
                ? f with { PBeyondAdjusted = adjusted, FailsAdjusted = f.Verdict == CheckVerdict.Fail && adjusted <= alpha }
                : f),
        ];
    }
}
