using System.Text.Json;
using ChargeAudit.Comparing.Placement;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Json;

/// <summary>What the place of the device changes, in JSON. Only where a study gives factors.</summary>
internal static class PlacementJson
{
    /// <summary>The factors of a run; nothing where none were given.</summary>
    public static void Factors(Utf8JsonWriter json, RunFactors factors)
    {
        if (factors.IsNone)
        {
            return;
        }

        json.Object("factors", () =>
        {
            foreach (var factor in Enum.GetValues<Factor>().Where(factors.Has))
            {
                if (factor == Factor.Case)
                {
                    json.WriteString(FactorWords.Member(factor), factors.Case);
                }
                else
                {
                    json.Number(FactorWords.Member(factor), factors.Of(factor));
                }
            }
        });
    }

    /// <summary>The finding; nothing where there is none.</summary>
    public static void Write(Utf8JsonWriter json, AuditResult result)
    {
        if (result.Placement is not { } placement)
        {
            return;
        }

        json.Object("placement", () =>
        {
            json.WriteNumber("rise", placement.Rise);
            json.Objects("methods", placement.Methods, m => Method(json, m));
            json.Objects("differences", placement.Differences, d =>
            {
                json.WriteString("first", d.First);
                json.WriteString("second", d.Second);
                json.Objects("positions", d.Positions, p =>
                {
                    json.WriteNumber("xMm", p.XMm);
                    json.WriteNumber("yMm", p.YMm);
                    json.Measured("first", p.First);
                    json.Measured("second", p.Second);
                    json.Measured("difference", p.Difference);
                });
                if (d.WhyNone is not null)
                {
                    json.WriteString("positionsReason", d.WhyNone);
                }
            });
        });
    }

    private static void Method(Utf8JsonWriter json, MethodPlacement m)
    {
        json.WriteString("method", m.Method);
        json.WriteString("figure", m.Figure.To is null ? "energy-per-charge" : "efficiency");
        json.WriteString("from", StableName.Of(m.Figure.From));
        LogJson.Optional(json, "to", m.Figure.To is { } to ? StableName.Of(to) : null, "only the input was measured");
        json.Strings("runs", m.Runs.Select(r => r.Id));
        json.Objects("positions", m.Positions, p =>
        {
            json.WriteNumber("xMm", p.XMm);
            json.WriteNumber("yMm", p.YMm);
            json.Strings("runs", p.Runs);
            json.Measured("value", p.Shown);
            json.Figure("toBest", p.ToBest is { } best ? Figure.Of(best) : Figure.None("this is the best position measured"));
            json.Figure("toReference", p.ToReference is { } wired ? Figure.Of(wired) : Figure.None("no wired reference was measured alike"));
        });
        json.WriteStartArray("hull");
        foreach (var (x, y) in m.Map?.Hull ?? [])
        {
            json.WriteStartArray();
            json.WriteNumberValue(x);
            json.WriteNumberValue(y);
            json.WriteEndArray();
        }

        json.WriteEndArray();
        if (m.WhyNoMap is not null)
        {
            json.WriteString("hullReason", m.WhyNoMap);
        }

        json.Objects("responses", m.Responses, r => Response(json, r));
        Tolerance(json, m);
        Model(json, m);
        json.Strings("notes", m.Notes);
    }

    private static void Response(Utf8JsonWriter json, ResponseCurve r)
    {
        json.WriteString("factor", StableName.Of(r.Factor));
        json.WriteString("unit", RunFactors.UnitOf(r.Factor));
        json.Objects("levels", r.Levels, l =>
        {
            json.WriteString("name", l.Name);
            json.Number("at", l.Value, "a case has a name and no value");
            json.Strings("runs", l.Runs);
            json.Measured("value", l.Shown);
        });
        json.WriteNumber("order", r.Order);
        LogJson.Optional(json, "caution", r.Caution, "no other factor changed along with it");
    }

    private static void Tolerance(Utf8JsonWriter json, MethodPlacement m)
    {
        if (m.Tolerance is not { } t)
        {
            json.Missing("tolerance", "no offset was given two values");
            return;
        }

        string notReached = t.WhyNot ?? "not reached within the measured offsets";
        json.Object("tolerance", () =>
        {
            json.WriteNumber("rise", t.Rise);
            json.Number("bestXMm", t.BestXMm, t.WhyNot ?? "offset-x was not varied");
            json.Number("bestYMm", t.BestYMm, t.WhyNot ?? "offset-y was not varied");
            json.WriteBoolean("bestIsFitted", t.Fitted);
            json.Number("offsetMm", t.OffsetMm, notReached);
            json.Number("lowMm", t.LowMm, t.WhyNot ?? "too few runs for an interval");
            json.Number("highMm", t.HighMm, t.LowMm is null ? t.WhyNot ?? "too few runs for an interval" : "beyond the measured offsets");
            json.WriteNumber("measuredToMm", t.MeasuredToMm);
            json.WriteString("sentence", t.Sentence(m.Method));
        });
    }

    private static void Model(Utf8JsonWriter json, MethodPlacement m)
    {
        if (m.Model is not { } model)
        {
            json.Missing("model", m.WhyNoModel);
            return;
        }

        json.Object("model", () =>
        {
            json.WriteString("unit", model.Unit);
            json.Objects("terms", model.Terms, t =>
            {
                json.WriteString("id", t.Id);
                json.Measured("coefficient", t.Coefficient);
                json.Number("scatter", t.Scatter, "as many coefficients as runs");
                json.Number("sharedMeasurement", t.SharedMeasurement, "not known");
            });
            json.WriteNumber("runs", model.Runs);
            json.WriteNumber("degreesOfFreedom", model.DegreesOfFreedom);
            json.Number("residualScatter", model.ResidualScatter, "as many coefficients as runs");
            json.Number("rSquared", model.RSquared);
            json.Number("conditionNumber", model.ConditionNumber);
            if (model.LackOfFit is { } lack)
            {
                json.Object("lackOfFit", () =>
                {
                    json.Number("f", lack.F);
                    json.WriteNumber("modelFreedom", lack.ModelFreedom);
                    json.WriteNumber("repeatFreedom", lack.RepeatFreedom);
                    json.Number("probability", lack.Probability);
                });
            }
            else
            {
                json.Missing("lackOfFit", "no setting was repeated, or the model has as many coefficients as there are settings");
            }

            json.Strings("notes", model.Notes);
        });
    }
}
