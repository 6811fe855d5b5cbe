using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>
/// The regression check: non-inferiority of a candidate to its baseline, figure by figure, each within its own margin. The whole passes where
/// every figure passes at α (an intersection–union test, which needs no adjustment) and fails where any fails at its level adjusted by Holm.
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
            throw new InputException(InputProblem.Usage, $"no margin is given for {StableName.Of(figure)}; give one, or margin = \"2 %\" under [check] in the study")
            {
                Remedy = Remedy.Margin,
            };
        }

        DesignMatch.Devices(candidate, baseline);
        double alpha = rules.Alpha ?? CheckRules.UsualAlpha;
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
                figures.AddRange(Method(method, before, baseline, rules, alpha, left));
            }
        }

        left.AddRange(baseline.Methods.Where(m => candidate.Methods.All(c => c.Name != m.Name)).Select(m => $"{m.Name} is not in the study."));
        if (figures.Count == 0)
        {
            throw new InputException(InputProblem.Unusable, $"there is nothing to compare with the baseline: {string.Join(" ", left).TrimEnd('.')}; measure the candidate with methods of the same names");
        }

        var adjusted = Adjusted(figures, alpha);
        var verdict = adjusted.Any(f => f.FailsAdjusted) ? CheckVerdict.Fail
            : adjusted.All(f => f.Verdict == CheckVerdict.Pass) ? CheckVerdict.Pass
            : CheckVerdict.Inconclusive;
        return new CheckResult
        {
            Verdict = verdict,
            Alpha = alpha,
            Figures = adjusted,
            NotCompared = left,
            Reasons = CheckReasons.Of(verdict, adjusted, alpha),
            Device = candidate.DeviceName,
            Candidate = candidate.Title,
            CandidateSha256 = candidate.Sha256,
            Baseline = baseline.Title,
            BaselineSha256 = baseline.Sha256,
        };
    }

    /// <summary>
    /// The check with what the history says. A drift that has carried a figure beyond its margin since the first measurement fails the check,
    /// as no single comparison with a baseline that moved along could show it; a drift within the margin is told and fails nothing.
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
            Verdict = drifts.Any(d => d.BeyondMargin) ? CheckVerdict.Fail : result.Verdict,
            Reasons = [.. drifts.Where(d => d.Alarm).OrderByDescending(d => d.BeyondMargin).Select(DriftTest.Sentence), .. result.Reasons],
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
            throw new InputException(InputProblem.Unusable, $"{old[0].Files[0]}, a log of {method.Name}, is in the baseline already; the candidate needs logs of its own for every run");
        }

        left.Add($"{method.Name}: all its logs are the baseline's own, so nothing new was measured.");
        return false;
    }

    private static IEnumerable<FigureCheck> Method(
        DesignMethod candidate, DesignMethod before, MeasuredDesign baseline, CheckRules rules, double alpha, List<string> left)
    {
        foreach (var point in candidate.Points.Keys.Order())
        {
            foreach (var figure in rules.Figures)
            {
                string name = CheckReasons.Name(candidate.Name, point, figure);
                if (figure == CheckedFigure.NoLoadPower && candidate.Points[point].StandbySha256.Any(baseline.LogSha256.Contains))
                {
                    left.Add($"{name}: its stand-by log is the baseline's own, so nothing new was measured.");
                    continue;
                }

                var (own, whyNot) = DesignFigures.Of(candidate, point, figure, "candidate", rules.Repeatability);
                var (old, oldWhyNot) = DesignFigures.Of(before, point, figure, "baseline", rules.Repeatability);
                if (own is null && old is null)
                {
                    left.Add($"{name}: known on neither side ({whyNot}).");
                    continue;
                }

                if (own?.Value.Value <= 0 && old?.Value.Value <= 0)
                {
                    left.Add($"{name}: the meter shows nothing on either side, so there is no ratio.");
                    continue;
                }

                yield return Figure(candidate.Name, point, figure, own, old, rules.MarginOf(figure, point)!.Value, alpha) with
                {
                    Meters = [.. DesignMatch.MetersOf(candidate, point)],
                    Note = own is null ? $"The study has no such figure: {whyNot}." : old is null ? $"The baseline has no such figure: {oldWhyNot}." : Doubt(own, old) ?? Remark(own, old),
                };
            }
        }
    }

    private static FigureCheck Figure(
        string method, MeasuringPoint point, CheckedFigure figure, RunsFigure? own, RunsFigure? old, double margin, double alpha)
    {
        var check = new FigureCheck
        {
            Method = method,
            Point = point,
            Figure = figure,
            Verdict = CheckVerdict.Inconclusive,
            Margin = margin,
            Candidate = own?.Value,
            Baseline = old?.Value,
            CandidateRuns = own?.Runs ?? 0,
            BaselineRuns = old?.Runs ?? 0,
            CandidateScatter = own?.RelativeScatter,
            BaselineScatter = old?.RelativeScatter,
        };
        if (own is null || old is null)
        {
            return check;
        }

        check = check with { Ratio = old.Value.Value <= 0 ? null : RatioOfMeans.Compare(own.Value, old.Value).Ratio };
        if (Doubt(own, old) is not null)
        {
            return check;
        }

        var test = MarginTest.Against(own.Value, old.Value, 1 + margin, alpha);

        // By the test and not by the bounds: powers and energies are not below zero, so a difference that is shown is a ratio shown, also where a
        // baseline near zero leaves the ratio without an upper bound.
        var verdict = test.PWithin <= alpha ? CheckVerdict.Pass : test.PBeyond <= alpha ? CheckVerdict.Fail : CheckVerdict.Inconclusive;
        return check with
        {
            Test = test,
            Verdict = verdict,
            Settling = verdict == CheckVerdict.Inconclusive ? FurtherRuns.For(own, old, 1 + margin, alpha) : null,
        };
    }

    // Why no risk of error can be stated; null where it can.
    private static string? Doubt(RunsFigure own, RunsFigure old)
    {
        if ((own.Value.UnknownBecause ?? old.Value.UnknownBecause) is { } because)
        {
            return $"The uncertainty is not known ({because}), so no risk of error can be stated.";
        }

        if (own.ScatterSource is null || old.ScatterSource is null)
        {
            string which = own.ScatterSource is null ? old.ScatterSource is null ? "The candidate and the baseline rest" : "The candidate rests" : "The baseline rests";
            return $"{which} on one run, which tells nothing of the scatter: make at least two more, or give repeatability under [check] where it is known.";
        }

        return old.Value.Value <= 0 && own.Value.Value <= 0
            ? "Neither side is above zero, so there is no ratio."
            : own.RunVariance + old.RunVariance == 0 && MarginTest.Difference(own.Value, old.Value, 1).StandardUncertainty is not > 0
                ? "The runs agree to the last digit, so the meter's step hides their scatter, and nothing of the meter is left in the ratio either: make the readings finer, or give repeatability under [check]."
                : null;
    }

    // What to know of a test that can be made.
    private static string? Remark(RunsFigure own, RunsFigure old)
    {
        string? alike = own.RunVariance + old.RunVariance == 0
            ? "The runs agree to the last digit, so the meter's step hides their scatter: the test rests on the meter's part alone."
            : null;
        string? changed = MeterAccuracyChange.Of(own.Value, old.Value);
        return alike is null ? changed : changed is null ? alike : alike + " " + changed;
    }

    private static List<FigureCheck> Adjusted(List<FigureCheck> figures, double alpha)
    {
        var tested = figures.Where(f => f.Test is not null).ToList();
        double[] p = HolmAdjustment.Adjust(tested.Select(f => f.Test!.PBeyond).ToArray());
        var byFigure = tested.Zip(p).ToDictionary(t => t.First, t => t.Second);
        return
        [
            .. figures.Select(f => byFigure.TryGetValue(f, out double adjusted)
                ? f with { PBeyondAdjusted = adjusted, FailsAdjusted = f.Verdict == CheckVerdict.Fail && adjusted <= alpha }
                : f),
        ];
    }
}
