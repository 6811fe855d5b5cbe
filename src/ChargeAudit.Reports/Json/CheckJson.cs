using System.Text.Json;
using ChargeAudit.Checking;
using ChargeAudit.Checking.Drift;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Json;

/// <summary>The verdict of a check in JSON.</summary>
public static class CheckJson
{
    /// <summary>Name and version of the document.</summary>
    public const string Schema = "chargeaudit-check/1";

    private const string NotTested = "there is no test; see the note";

    /// <summary>The document; it ends with a line feed.</summary>
    /// <param name="result">The check.</param>
    public static string Of(CheckResult result) => JsonText.Document(Schema, json =>
    {
        var decisive = result.Decisive;
        json.WriteString("verdict", StableName.Of(result.Verdict));
        Optional(json, "ratio", decisive.Ratio, decisive.Note);
        json.WriteNumber("margin", decisive.Margin);
        json.WriteString("decidedBy", CheckReasons.Name(decisive));
        json.WriteNumber("alpha", result.Alpha);
        json.Strings("reasons", result.Reasons);
        json.Objects("figures", result.Figures, f => Figure(json, f));
        json.Strings("notCompared", result.NotCompared);
        json.Objects("drift", result.Drifts, d =>
        {
            json.WriteString("method", d.Method);
            json.WriteString("point", StableName.Of(d.Point));
            json.WriteString("figure", StableName.Of(d.Figure));
            json.WriteBoolean("alarm", d.Alarm);
            json.WriteBoolean("beyondMargin", d.BeyondMargin);
            json.WriteNumber("checks", d.Checks);
            json.WriteNumber("score", d.Score);
            json.WriteNumber("limit", d.Limit);
            json.WriteNumber("checksBetweenFalseAlarms", d.ChecksBetweenFalseAlarms);
            json.WriteNumber("changedAfter", d.ChangedAfter);
            json.WriteNumber("change", d.Change);
            json.WriteNumber("sinceFirst", d.SinceFirst);
            json.WriteString("cause", StableName.Of(d.Cause));
            if (d.CauseReason is not null)
            {
                json.WriteString("causeReason", d.CauseReason);
            }
        });
        Looks(json, result);
        Detection(json, result);
        json.Object("candidate", () =>
        {
            json.WriteString("title", result.Candidate);
            json.WriteString("logsSha256", result.CandidateSha256);
        });
        json.Object("baseline", () =>
        {
            json.WriteString("title", result.Baseline);
            json.WriteString("sha256", result.BaselineSha256);
        });
    });

    private static void Looks(Utf8JsonWriter json, CheckResult result)
    {
        if (result.Looks is not { } looks)
        {
            json.Missing("looks", "no looks are planned, and no history tells of earlier ones");
            return;
        }

        json.Object("looks", () =>
        {
            json.WriteBoolean("planned", looks.Rule is not null);
            json.WriteNumber("number", looks.Number);
            json.WriteStartArray("runs");
            foreach (int runs in looks.Runs)
            {
                json.WriteNumberValue(runs);
            }

            json.WriteEndArray();
            if (looks.Rule is { } rule)
            {
                json.WriteString("spending", StableName.Of(rule));
            }

            json.WriteNumber("level", looks.Level);
            json.WriteNumber("risk", looks.Risk);
            json.WriteString("sentence", looks.Sentence);
        });
    }

    private static void Detection(Utf8JsonWriter json, CheckResult result)
    {
        if (result.DriftPower is not { } power)
        {
            json.Missing("driftDetection", "there is no drift chart");
            return;
        }

        const string Long = "more than a hundred checks";
        json.Object("driftDetection", () =>
        {
            json.WriteNumber("figures", power.Figures);
            json.WriteNumber("checksBetweenFalseAlarms", DriftPower.ChecksBetweenFalseAlarms);
            json.Objects("cases", power.Rows, r =>
            {
                json.WriteNumber("quietChecks", r.QuietChecks);
                json.WriteNumber("stepSigma", r.StepSigma);
                json.WriteString("moves", r.AllMove ? "all" : "one");
                json.WriteNumber("within5", r.Within5);
                json.WriteNumber("within10", r.Within10);
                json.WriteNumber("within20", r.Within20);
                json.Number("possibleWithin20", r.AllMove ? null : DriftPower.Possible(r.QuietChecks, r.StepSigma, 20), "not worked out for figures that move together");
                json.Number("firstQuarter", r.FirstQuarter, Long);
                json.Number("median", r.Median, Long);
                json.Number("thirdQuarter", r.ThirdQuarter, Long);
            });
            json.Strings("promise", DriftTest.Promise(result.Drifts));
        });
    }

    private static void Figure(Utf8JsonWriter json, FigureCheck f)
    {
        json.WriteString("method", f.Method);
        json.WriteString("point", StableName.Of(f.Point));
        json.WriteString("figure", StableName.Of(f.Figure));
        json.WriteString("verdict", StableName.Of(f.Verdict));
        json.WriteBoolean("failsAdjusted", f.FailsAdjusted);
        json.WriteNumber("margin", f.Margin);
        json.WriteNumber("level", f.Level);
        Optional(json, "ratio", f.Ratio, f.Note);
        json.Number("lowerBound", f.Test?.LowerBound, f.Test is null ? NotTested : "the data give no lower bound");
        json.Number("upperBound", f.Test?.UpperBound, f.Test is null ? NotTested : "the data give no upper bound");
        json.Number("t", f.Test?.T, NotTested);
        json.Number("dof", f.Test?.DegreesOfFreedom, f.Test is null ? NotTested : "unlimited");
        json.Number("pWithin", f.Test?.PWithin, NotTested);
        json.Number("pBeyond", f.Test?.PBeyond, NotTested);
        json.Number("pBeyondAdjusted", f.PBeyondAdjusted, NotTested);
        Optional(json, "candidate", f.Candidate, f.Note);
        Optional(json, "baseline", f.Baseline, f.Note);
        json.WriteNumber("candidateRuns", f.CandidateRuns);
        json.WriteNumber("baselineRuns", f.BaselineRuns);
        if (f.Note is not null)
        {
            json.WriteString("note", f.Note);
        }

        if (f.Settling is { } settling)
        {
            json.Object("settling", () =>
            {
                json.Number("furtherCandidateRuns", settling.FurtherCandidateRuns, settling.Sentence);
                json.Number("furtherBaselineRuns", settling.FurtherBaselineRuns, settling.Sentence);
                json.WriteString("sentence", settling.Sentence);
            });
        }
    }

    private static void Optional(Utf8JsonWriter json, string name, Measured? figure, string? whyNot)
    {
        if (figure is null)
        {
            json.Missing(name, whyNot ?? "the baseline is not above zero");
        }
        else
        {
            json.Measured(name, figure);
        }
    }
}
