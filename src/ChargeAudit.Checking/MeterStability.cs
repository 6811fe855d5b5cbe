using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Checking;

/// <summary>
/// A meter whose stated stability lets its error move between two audits: each audit holds a part of the error that is its own. Where only
/// one of the two studies states it (a baseline from before stability was asked for), the other gets a part of the same size, since the
/// meter is the same.
/// </summary>
internal static class MeterStability
{
    /// <summary>A figure with the parts that the other side shows and it does not.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="other">The other side's, of the same unit.</param>
    public static Measured Completed(Measured figure, Measured other)
    {
        if (other.Value == 0 || figure.Components.FirstOrDefault(c => c.Source.Design is not null).Source?.Design is not { } side)
        {
            return figure;
        }

        var missing = other.Components.Where(IsOfOneAudit)
            .Where(o => !figure.Components.Any(c => c.Source == o.Source with { Design = side }))
            .Select(o => new UncertaintyComponent(o.Source with { Design = side }, o.SignedStandardUncertainty * figure.Value
                / other.Value)).ToList();
        return missing.Count == 0 ? figure : figure.Plus(missing);
    }

    /// <summary>Whether a component is the part of a meter's error that belongs to one audit.</summary>
    /// <param name="component">The component.</param>
    public static bool IsOfOneAudit(UncertaintyComponent component) =>
        component.Source is
        {
            Owner: SourceOwner.Meter, Shared: false, Kind: SourceKind.MeterGain or SourceKind.MeterOffset
            or SourceKind.Clock
        };
}
