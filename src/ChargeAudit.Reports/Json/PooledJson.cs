using System.Text.Json;
using ChargeAudit.Metrology;
using ChargeAudit.Pooling.Results;

namespace ChargeAudit.Reports.Json;

/// <summary>Many audits as one answer, in JSON.</summary>
public static class PooledJson
{
    /// <summary>Name and version of the document.</summary>
    public const string Schema = "chargeaudit-pool/1";

    /// <summary>The document; it ends with a line feed.</summary>
    /// <param name="pool">The pool.</param>
    public static string Of(PoolResult pool) => JsonText.Document(Schema, json =>
    {
        json.WriteString("title", pool.Title);
        json.WriteString("point", StableName.Of(pool.Point));
        json.WriteString("year", pool.Year);
        json.Objects("figures", pool.Figures, f => Figure(json, f));
        json.Objects("asOneInstrument", pool.AsOneInstrument, f => Figure(json, f));
        if (pool.Ranking is { } ranking)
        {
            json.Object("ranking", () => Ranking(json, ranking));
        }
        else
        {
            json.Missing("ranking", pool.NoRanking);
        }

        json.Objects("factors", pool.Factors, f =>
        {
            json.WriteString("factor", f.Factor);
            json.WriteString("level", f.Level);
            json.WriteString("base", f.Base);
            Value(json, "ratio", f.Ratio, "1");
            json.WriteNumber("dof", f.DegreesOfFreedom);
            json.WriteNumber("audits", f.Audits);
        });
        json.Strings("noRegression", pool.NoRegression);
        json.Strings("apart", pool.Apart);
        json.Strings("doubts", pool.Doubts);
        json.Objects("audits", pool.Audits, a =>
        {
            json.WriteString("file", a.File);
            json.WriteString("sha256", a.Design.Sha256);
            json.WriteString("device", a.Device);
            json.WriteString("reference", a.Reference);
            json.Object("instruments", () =>
            {
                foreach (var (meter, key) in a.Instruments)
                {
                    json.WriteString(meter, key);
                }
            });
        });
    });

    private static void Figure(Utf8JsonWriter json, PooledFigure f)
    {
        json.WriteString("figure", StableName.Of(f.Figure));
        json.WriteString("charger", f.Charger);
        json.WriteBoolean("pooledAsLogarithm", PoolRow.AsLogarithm(f.Figure));
        json.Objects("devices", f.Devices, d =>
        {
            json.WriteString("device", d.Name);
            json.Strings("audits", d.Audits);
            Value(json, "own", d.Own, f.Unit);
            json.Number("weight", d.Weight, f.WhyNot ?? "not known");
            const string few = "too few devices would be left";
            if (d.MeanWithout is { } without)
            {
                Value(json, "meanWithout", without, f.Unit);
            }
            else
            {
                json.Missing("meanWithout", few);
            }

            json.Number("influence", d.Influence, few);
        });
        if (f.Answer is { } answer)
        {
            json.Object("answer", () => Answer(json, answer, f.Unit));
        }
        else
        {
            json.Missing("answer", f.WhyNot);
        }

        json.Strings("missing", f.Missing);
    }

    private static void Answer(Utf8JsonWriter json, PooledAnswer answer, string unit)
    {
        Value(json, "mean", answer.Mean, unit);
        json.WriteNumber("meanU", answer.MeanU);
        json.WriteNumber("dof", answer.MeanDegreesOfFreedom);
        json.Object("spread", () =>
        {
            json.WriteNumber("reml", answer.Spread.Reml);
            json.WriteNumber("pauleMandel", answer.Spread.PauleMandel);
            json.WriteNumber("low", answer.Spread.Low);
            json.Number("high", answer.Spread.High);
            json.WriteNumber("q", answer.Spread.Q);
            json.WriteNumber("dof", answer.Spread.DegreesOfFreedom);
        });
        Value(json, "anotherDevice", answer.AnotherDevice, unit);
        Value(json, "nextMeasurement", answer.NextMeasurement, unit);
        json.Objects("shares", answer.Shares, s =>
        {
            json.WriteString("what", s.What);
            json.WriteNumber("share", s.Share);
            json.WriteBoolean("sharedByAll", s.SharedByAll);
        });
    }

    private static void Ranking(Utf8JsonWriter json, ChargerRanking ranking)
    {
        json.Objects("chargers", ranking.Chargers, c =>
        {
            json.WriteString("charger", c.Name);
            Value(json, "ratio", c.Ratio, "1");
            json.WriteNumber("best", c.Best);
            json.WriteNumber("firstThree", c.FirstThree);
        });
        json.Objects("devices", ranking.Devices, d =>
        {
            json.WriteString("device", d.Name);
            json.WriteNumber("factor", d.Factor);
        });
        json.Objects("cells", ranking.Cells, c =>
        {
            json.WriteString("device", c.Device);
            json.WriteString("charger", c.Charger);
            Value(json, "ratio", c.Ratio, "1");
            json.WriteNumber("audits", c.Audits);
        });
        json.Objects("pairs", ranking.Pairs, p =>
        {
            json.WriteString("first", p.First);
            json.WriteString("second", p.Second);
            Value(json, "ratio", p.Ratio, "1");
            json.WriteNumber("p", p.P);
            json.WriteBoolean("toldApart", p.ToldApart);
        });
        json.WriteNumber("deviceSpread", ranking.DeviceSpread);
        json.WriteNumber("interactionSpread", ranking.InteractionSpread);
        json.Number("auditSpread", ranking.AuditSpread, "no device was audited twice on one charger");
        json.WriteNumber("dof", ranking.DegreesOfFreedom);
    }

    private static void Value(Utf8JsonWriter json, string name, PooledValue value, string unit) => json.Object(name, () =>
    {
        json.WriteNumber("value", value.Value);
        json.WriteString("unit", unit);
        json.Number("low", value.Low);
        json.Number("high", value.High);
        json.WriteNumber("coverage", 0.95);
    });
}
