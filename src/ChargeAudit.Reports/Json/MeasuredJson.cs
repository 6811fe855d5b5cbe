using System.Text.Json;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Json;

/// <summary>Measured quantities in JSON: one shape everywhere, components by source.</summary>
internal static class MeasuredJson
{
    /// <summary>A measured quantity.</summary>
    public static void Measured(this Utf8JsonWriter json, string name, Measured figure, string? assumed = null)
    {
        if (!double.IsFinite(figure.Value))
        {
            json.Missing(name, figure.UnknownBecause ?? "the calculation gave no number");
            return;
        }

        json.Object(name, () =>
        {
            var interval = figure.Interval();
            json.WriteNumber("value", figure.Value);
            json.WriteString("unit", figure.Unit);
            json.Number("u", figure.StandardUncertainty);
            if (figure.UnknownBecause is { } because)
            {
                json.WriteString("uReason", because);
            }

            json.Number("low", interval?.Low);
            json.Number("high", interval?.High);
            json.Number("coverage", interval?.Coverage);
            json.Number("k", interval?.CoverageFactor);
            json.Number("dof", figure.DegreesOfFreedom);
            if (assumed is not null)
            {
                json.WriteString("assumed", assumed);
            }

            json.Objects("components", figure.Components, c =>
            {
                json.WriteString("source", c.Source.Id);
                if (c.Source.Design is { } design)
                {
                    json.WriteString("design", design);
                }

                json.WriteString("owner", InfluenceSource.Word(c.Source.Owner));
                json.WriteString("ownerName", c.Source.OwnerName);
                json.WriteString("kind", StableName.Of(c.Source.Kind));
                json.WriteString("part", c.Source.Part);
                json.Number("u", c.SignedStandardUncertainty);
                json.Number("dof", c.Source.DegreesOfFreedom);
                json.WriteBoolean("shared", c.Source.Shared);
                json.WriteString("shape", StableName.Of(c.Source.Shape));
            });
        });
    }

    /// <summary>A figure that may be missing; then null, with its reason beside it.</summary>
    public static void Figure(this Utf8JsonWriter json, string name, Figure figure)
    {
        if (figure.Value is { } value)
        {
            json.Measured(name, value, figure.Assumed);
        }
        else
        {
            json.Missing(name, figure.WhyNot);
        }
    }

    /// <summary>A quantity whose uncertainty is not worked out.</summary>
    public static void Plain(this Utf8JsonWriter json, string name, double value, string unit, string because) =>
        json.Measured(name, Metrology.Uncertainty.Measured.Unknown(value, unit, because));
}
