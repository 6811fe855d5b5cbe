using System.Text.Json;
using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>What links the logs of a run and the stages of a charge, in JSON: clocks, ends of charge, losses, adapter curves.</summary>
internal static class ChainJson
{
    private const string NoMoreOut = "no more energy comes out of the stage than goes in";

    /// <summary>How the clocks of a run's meters stand to each other.</summary>
    public static void Clocks(Utf8JsonWriter json, RunResult run) => json.Objects("clocks", run.Clocks, c =>
    {
        json.WriteString("point", StableName.Of(c.Point));
        json.WriteString("against", StableName.Of(c.Reference));
        json.Figure("ahead", c.AheadS);
        json.WriteBoolean("applied", c.Applied);
    });

    /// <summary>The ratio if charges were ended by other rules.</summary>
    public static void EndRules(Utf8JsonWriter json, ComparisonResult comparison) => json.Objects("endRules", comparison.EndRules, e =>
    {
        json.WriteString("rule", StableName.Of(e.Rule));
        json.Number("overheadRatio", e.Ratio, e.WhyNot ?? "not known");
        json.WriteBoolean("forInformationOnly", e.Rule == EndRule.PlainShare);
    });

    /// <summary>What to think of more energy out of a stage than into it.</summary>
    public static void Check(Utf8JsonWriter json, EfficiencyCheck? check)
    {
        if (check is null)
        {
            json.Missing("check", NoMoreOut);
            return;
        }

        json.Object("check", () =>
        {
            json.Number("efficiency", check.Efficiency);
            json.Number("probability", check.Probability, "the uncertainty is not known");
            json.WriteString("text", check.Text);
        });
    }

    /// <summary>The parts of the charges and the bursts that begin within a mode.</summary>
    public static void Details(Utf8JsonWriter json, IReadOnlyList<ModeDetail> details) => json.Objects("details", details, d =>
    {
        json.WriteString("kind", StableName.Of(d.Kind));
        json.Number("start", d.StartS);
        json.Number("end", d.EndS);
        json.Number("meanPowerW", d.MeanPowerW);
    });

    /// <summary>Where the energy goes, and how the adapters convert it.</summary>
    public static void Losses(Utf8JsonWriter json, AuditResult result)
    {
        json.Objects("losses", result.Losses, l =>
        {
            json.WriteString("method", l.Method);
            json.WriteString("from", StableName.Of(l.From));
            json.Figure("energyIn", l.EnergyIn);
            json.Objects("parts", l.Parts, p =>
            {
                json.Strings("places", p.Places.Select(StableName.Of));
                json.WriteString("from", StableName.Of(p.From));
                LogJson.Optional(json, "to", p.To is { } to ? StableName.Of(to) : null, "up to what the battery stored");
                json.Figure("loss", p.EnergyWh);
            });
            json.Figure("arrives", l.Arrives);
            LogJson.Optional(json, "lastPoint", l.LastPoint is { } last ? StableName.Of(last) : null, "the battery's energy is given");
            LogJson.Optional(json, "notSeparated", l.NotSeparated, "the split reaches what the battery stored");
        });
        json.Objects("adapterCurves", result.AdapterCurves, c => Curve(json, c));
    }

    private static void Curve(Utf8JsonWriter json, AdapterCurveResult c)
    {
        json.WriteString("method", c.Method);
        json.Number("outputVoltageV", c.OutV > 0 ? c.OutV : null, "no voltage was logged");
        json.WriteNumber("points", c.Points);
        json.Number("leastOutputW", c.LeastOutW);
        json.Number("greatestOutputW", c.GreatestOutW);
        json.Measured("fixed", c.Fixed);
        json.Measured("perWatt", c.PerWatt);
        json.Measured("perSquare", c.PerSquare);
        json.Objects("efficiencies", c.Efficiencies, e =>
        {
            json.Number("outputW", e.OutW);
            json.Figure("efficiency", e.Efficiency);
        });
        json.Objects("atRated", c.Rated, e =>
        {
            json.WriteNumber("percentOfRated", e.SharePercent);
            json.Number("outputW", e.OutW);
            json.Figure("efficiency", e.Efficiency);
        });
        json.Figure("average", c.Average);
        json.Strings("published", c.Published.Select(p => p.Text));
    }
}
