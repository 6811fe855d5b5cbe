using ChargeAudit.Checking.Looks;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>One method of the candidate beside the baseline's, figure by figure.</summary>
/// <param name="CandidateDesign">The design under test.</param>
/// <param name="BaselineDesign">What it must not be worse than.</param>
/// <param name="Candidate">Its method.</param>
/// <param name="Baseline">The baseline's method of the same name.</param>
internal sealed record MethodPair(MeasuredDesign CandidateDesign, MeasuredDesign BaselineDesign, DesignMethod Candidate,
    DesignMethod Baseline)
{
    // A nominal level below this is not a level that a test could reach; bounds are drawn at this one then.
    private const double LeastLevel = 1e-7;

    /// <summary>Every figure that either side has.</summary>
    /// <param name="rules">Margins and figures.</param>
    /// <param name="alpha">One-sided level of the whole. [1]</param>
    /// <param name="look">Where the method stands in the plan of looks; null without a plan.</param>
    /// <param name="left">Takes what was not compared and why.</param>
    public IEnumerable<FigureCheck> Figures(CheckRules rules, double alpha, PlannedLook? look, List<string> left)
    {
        foreach (var point in Candidate.Points.Keys.Order())
        {
            foreach (var figure in rules.Figures)
            {
                string name = CheckReasons.Name(Candidate.Name, point, figure);
                if (figure == CheckedFigure.NoLoadPower && Candidate.Points[point].StandbySha256.Any(BaselineDesign.LogSha256.Contains))
                {
                    left.Add($"{name}: its log of the waiting charger is the baseline's own, so nothing new was measured.");
                    continue;
                }

                if (Sides(point, figure, rules.Repeatability, name, left) is not { } sides)
                {
                    continue;
                }

                var (own, old) = (sides.Own.Figure, sides.Old.Figure);
                if (own is null && old is null)
                {
                    left.Add($"{name}: known on neither side ({sides.Own.WhyNot}).");
                    continue;
                }

                if (own?.Value.Value <= 0 && old?.Value.Value <= 0)
                {
                    left.Add($"{name}: the meter shows nothing on either side, so there is no ratio.");
                    continue;
                }

                if (own is not null && old is not null)
                {
                    (own, old) = (own with { Value = MeterStability.Completed(own.Value, old.Value) }, old with
                    {
                        Value = MeterStability.Completed(old.Value, own.Value),
                    });
                }

                yield return Figure(point, figure, own, old, rules.MarginOf(figure, point)!.Value, alpha, look) with
                {
                    Meters = [.. DesignMatch.MetersOf(Candidate, point)],
                    Note = own is null ? $"The study has no such figure: {sides.Own.WhyNot}."
                        : old is null ? $"The baseline has no such figure: {sides.Old.WhyNot}."
                        : Doubt(own, old) ?? Remark(own, old),
                };
            }
        }
    }

    private ((RunsFigure? Figure, string? WhyNot) Own, (RunsFigure? Figure, string? WhyNot) Old)? Sides(
        MeasuringPoint point, CheckedFigure figure, double? repeatability, string name, List<string> left)
    {
        if (figure != CheckedFigure.OverheadRatio)
        {
            return (DesignFigures.Of(Candidate, point, figure, "candidate", repeatability),
                DesignFigures.Of(Baseline, point, figure, "baseline", repeatability));
        }

        var (own, whyNot) = OverheadFigure.ReferenceOf(CandidateDesign, Candidate, point);
        var (old, oldWhyNot) = OverheadFigure.ReferenceOf(BaselineDesign, Baseline, point);
        string? reason = own is not null && old is not null
            ? own.Name != old.Name
                ? $"the reference is {own.Name} in the study and {old.Name} in the baseline"
                : own.Runs.SelectMany(r => r.Points.Values).SelectMany(p => p.Sha256).Any(BaselineDesign.LogSha256.Contains)
                    ? $"{own.Name} was not measured again, so what the day and the meter do to both does not cancel"
                    : null
            : whyNot ?? oldWhyNot
                ?? (own is null == old is null ? "" : $"the {(own is null ? "study" : "baseline")} has no reference by cable there");
        if (reason is not null)
        {
            left.AddRange(reason.Length == 0 ? [] : [$"{name}: {reason}."]);
            return null;
        }

        return (OverheadFigure.Of(Candidate, own!, point, "candidate", repeatability),
            OverheadFigure.Of(Baseline, old!, point, "baseline", repeatability));
    }

    private FigureCheck Figure(MeasuringPoint point, CheckedFigure figure, RunsFigure? own, RunsFigure? old, double margin, double alpha,
        PlannedLook? look)
    {
        double level = look?.Level ?? alpha;
        var check = new FigureCheck
        {
            Method = Candidate.Name,
            Point = point,
            Figure = figure,
            Verdict = CheckVerdict.Inconclusive,
            Margin = margin,
            Level = level,
            Look = look,
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

        var test = MarginTest.Against(own.Value, old.Value, 1 + margin, Math.Max(level, LeastLevel));

        // By the test and not by the bounds: powers and energies are not below zero, so whatever is shown of the difference is shown of the
        // ratio, even where a baseline near zero leaves the ratio without an upper bound.
        var verdict = level == 0 ? CheckVerdict.Inconclusive : test.PWithin <= level ? CheckVerdict.Pass : test.PBeyond <= level
            ? CheckVerdict.Fail
            : CheckVerdict.Inconclusive;
        return check with
        {
            Test = test,
            Verdict = verdict,
            Open = verdict != CheckVerdict.Inconclusive
                ? null
                : new(() => look is null ? FurtherRuns.For(own, old, 1 + margin, alpha) : NextLook(look)),
        };
    }

    private static Settling NextLook(PlannedLook look) => look.NextRuns is { } next
        ? new Settling(next - look.Runs, 0, $"The plan looks again at {next} runs of the candidate.")
        : new Settling(null, null, "The plan has no further look.");

    // Why no risk of error can be stated; null where it can.
    private static string? Doubt(RunsFigure own, RunsFigure old)
    {
        if ((own.Value.UnknownBecause ?? old.Value.UnknownBecause) is { } because)
        {
            return $"The uncertainty is not known ({because}), so no risk of error can be stated.";
        }

        if (own.ScatterSource is null || old.ScatterSource is null)
        {
            string which = own.ScatterSource is null ? old.ScatterSource is null
                ? "The candidate and the baseline rest"
                : "The candidate rests" : "The baseline rests";
            var without = own.ScatterSource is null ? own : old;
            if (without.OneBlock)
            {
                return $"{which} on runs of one block (day, set-up), which tell nothing of how blocks differ: make runs in at least one "
                    + "more, "
                    + "or give repeatability under [check] where the scatter of blocks is known.";
            }

            string what = own.WithReference ? "one run of the method or of its reference" : "one run";
            return $"{which} on {what}, which tells nothing of the scatter: make at least two more, or give repeatability under [check] "
                + "where it is known.";
        }

        return old.Value.Value <= 0 && own.Value.Value <= 0
            ? "Neither side is above zero, so there is no ratio."
            : own.RunVariance + old.RunVariance == 0 && MarginTest.Difference(own.Value, old.Value, 1).StandardUncertainty is not > 0
                ? "The runs agree to the last digit, so the meter's step hides their scatter, and nothing of the meter is left in the "
                    + "ratio either: make the readings finer, or give repeatability under [check]."
                : null;
    }

    // A remark on a test that can be made.
    private static string? Remark(RunsFigure own, RunsFigure old)
    {
        string? alike = own.RunVariance + old.RunVariance == 0
            ? "The runs agree to the last digit, so the meter's step hides their scatter: the test rests on the meter's part alone."
            : null;
        string? changed = MeterAccuracyChange.Of(own.Value, old.Value);
        return alike is null ? changed : changed is null ? alike : alike + " " + changed;
    }
}
