using ChargeAudit.Checking.Documents;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Json;

/// <summary>Measured quantities in JSON: one shape everywhere, components by source.</summary>
internal static class MeasuredJson
{
    /// <summary>A measured quantity; null where it is not a number.</summary>
    public static MeasuredDocument? Json(this Measured figure, string? assumed = null)
    {
        if (!double.IsFinite(figure.Value))
        {
            return null;
        }

        var interval = figure.Interval();
        return new MeasuredDocument
        {
            Value = figure.Value,
            Unit = figure.Unit,
            U = Known.Finite(figure.StandardUncertainty),
            UReason = figure.UnknownBecause,
            Low = Known.Finite(interval?.Low),
            High = Known.Finite(interval?.High),
            Coverage = Known.Finite(interval?.Coverage),
            K = Known.Finite(interval?.CoverageFactor),
            Dof = Known.Finite(figure.DegreesOfFreedom),
            Assumed = assumed,
            // The mean of thousands of runs has several for each of them.
            Components = new MadeWhenAsked<UncertaintyComponent, ComponentDocument>(figure.Components, Component),
        };
    }

    /// <summary>Why a quantity is not a number; null where it is one.</summary>
    public static string? Why(this Measured figure) =>
        double.IsFinite(figure.Value) ? null : figure.UnknownBecause ?? "the calculation gave no number";

    /// <summary>A figure; null where it is missing.</summary>
    public static MeasuredDocument? Json(this Figure figure) => figure.Value?.Json(figure.Assumed);

    /// <summary>Why a figure is missing; null where it is not.</summary>
    public static string? Why(this Figure figure) => figure.Value is { } value ? value.Why() : figure.WhyNot ?? "not known";

    private static ComponentDocument Component(UncertaintyComponent c) => new()
    {
        Source = c.Source.Id,
        Design = c.Source.Design,
        Owner = InfluenceSource.Word(c.Source.Owner),
        OwnerName = c.Source.OwnerName,
        Kind = StableName.Of(c.Source.Kind),
        Part = c.Source.Part,
        U = Known.Finite(c.SignedStandardUncertainty),
        Dof = Known.Finite(c.Source.DegreesOfFreedom),
        Shared = c.Source.Shared,
        Shape = StableName.Of(c.Source.Shape),
    };
}
