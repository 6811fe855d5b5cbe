using ChargeAudit.Checking;
using ChargeAudit.Checking.Documents;
using ChargeAudit.Checking.Drift;
using ChargeAudit.Checking.Looks;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Json;

/// <summary>The verdict of a check in JSON.</summary>
public static class CheckJson
{
    /// <summary>Name and version of the document.</summary>
    public const string Schema = SchemaNames.Check;

    private const string NotTested = "there is no test; see the note";

    /// <summary>The document; it ends with a line feed.</summary>
    /// <param name="result">The check.</param>
    public static string Of(CheckResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var decisive = result.Decisive;
        return ReportContext.Text(new CheckDocument(
            Schema,
            StableName.Of(result.Verdict),
            decisive.Ratio?.Json(),
            WhyNot(decisive.Ratio, decisive.Note),
            decisive.Margin,
            CheckReasons.Name(decisive),
            result.Alpha,
            result.Reasons,
            [.. result.Figures.Select(Figure)],
            result.NotCompared,
            [.. result.Drifts.Select(Drift)],
            result.Looks is { } looks ? Looks(looks) : null,
            Known.Unless(result.Looks, "no looks are planned, and no history tells of earlier ones"),
            result.DriftPower is { } power ? Detection(power, result.Drifts) : null,
            Known.Unless(result.DriftPower, "there is no drift chart"),
            new(result.Candidate, result.CandidateSha256),
            new(result.Baseline, result.BaselineSha256)));
    }

    private static DriftDocument Drift(DriftFinding d) => new(
        d.Method,
        StableName.Of(d.Point),
        StableName.Of(d.Figure),
        d.Alarm,
        d.BeyondMargin,
        d.Checks,
        d.Score,
        d.Limit,
        d.ChecksBetweenFalseAlarms,
        d.ChangedAfter,
        d.Change,
        d.SinceFirst,
        StableName.Of(d.Cause),
        d.CauseReason);

    private static LooksDocument Looks(LookReport looks) => new(
        looks.Rule is not null, looks.Number, looks.Runs, looks.Rule is { } rule
            ? StableName.Of(rule)
            : null, looks.Level, looks.Risk, looks.Sentence);

    private static DriftDetectionDocument Detection(DriftPower power, IReadOnlyList<DriftFinding> drifts) =>
        new(power.Figures, DriftPower.ChecksBetweenFalseAlarms, [.. power.Rows.Select(Case)], DriftTest.Promise(drifts));

    private static DriftCaseDocument Case(DriftDetection r)
    {
        const string Long = "more than a hundred checks";
        double? possible = r.AllMove ? null : DriftPower.Possible(r.QuietChecks, r.StepSigma, 20);
        return new(
            r.QuietChecks,
            r.StepSigma,
            r.AllMove ? "all" : "one",
            r.Within5,
            r.Within10,
            r.Within20,
            possible,
            Known.Unless(possible, "not worked out for figures that move together"),
            r.FirstQuarter,
            Known.Unless(r.FirstQuarter, Long),
            r.Median,
            Known.Unless(r.Median, Long),
            r.ThirdQuarter,
            Known.Unless(r.ThirdQuarter, Long));
    }

    private static CheckedFigureDocument Figure(FigureCheck f) => new(
        f.Method,
        StableName.Of(f.Point),
        StableName.Of(f.Figure),
        StableName.Of(f.Verdict),
        f.FailsAdjusted,
        f.Margin,
        f.Level,
        f.Ratio?.Json(),
        WhyNot(f.Ratio, f.Note),
        Known.Finite(f.Test?.LowerBound),
        Known.Unless(f.Test?.LowerBound, f.Test is null ? NotTested : "the data give no lower bound"),
        Known.Finite(f.Test?.UpperBound),
        Known.Unless(f.Test?.UpperBound, f.Test is null ? NotTested : "the data give no upper bound"),
        Known.Finite(f.Test?.T),
        Known.Unless(f.Test?.T, NotTested),
        Known.Finite(f.Test?.DegreesOfFreedom),
        Known.Unless(f.Test?.DegreesOfFreedom, f.Test is null ? NotTested : "unlimited"),
        Known.Finite(f.Test?.PWithin),
        Known.Unless(f.Test?.PWithin, NotTested),
        Known.Finite(f.Test?.PBeyond),
        Known.Unless(f.Test?.PBeyond, NotTested),
        Known.Finite(f.PBeyondAdjusted),
        Known.Unless(f.PBeyondAdjusted, NotTested),
        f.Candidate?.Json(),
        WhyNot(f.Candidate, f.Note),
        f.Baseline?.Json(),
        WhyNot(f.Baseline, f.Note),
        f.CandidateRuns,
        f.BaselineRuns,
        f.Note,
        f.Settling is { } settling
            ? new(
                settling.FurtherCandidateRuns,
                Known.Unless(settling.FurtherCandidateRuns, settling.Sentence),
                settling.FurtherBaselineRuns,
                Known.Unless(settling.FurtherBaselineRuns, settling.Sentence),
                settling.Sentence)
            : null);

    private static string? WhyNot(Measured? figure, string? note) =>
        figure is null ? note ?? "the baseline is not above zero" : figure.Why();
}
