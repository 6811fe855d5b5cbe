using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>
/// The energy of a charge divided by that of the wired reference of the same audit, measured with the same meter. What the meter and the
/// day do to both alike cancels, so the ratio compares two designs also where the meter has moved since the baseline.
/// </summary>
internal static class OverheadFigure
{
    /// <summary>The reference of a method at a point; null with the reason where there is none to compare with.</summary>
    /// <param name="design">The design.</param>
    /// <param name="method">The method.</param>
    /// <param name="point">Where.</param>
    public static (DesignMethod? Reference, string? WhyNot) ReferenceOf(MeasuredDesign design, DesignMethod method, MeasuringPoint point)
    {
        var reference = design.Methods.FirstOrDefault(m => m.Name == design.Reference);
        if (reference is null || reference.Name == method.Name || reference.Kind != MethodKind.Wired
            || !reference.Points.ContainsKey(point))
        {
            return (null, null);
        }

        var (own, other) = (MetersOfRuns(method, point), MetersOfRuns(reference, point));
        return own.SetEquals(other)
            ? (reference, null)
            : (null,
                $"it was measured with {string.Join(" and ", own)} and its reference with {string.Join(" and ", other)}, so the meter does "
                + "not cancel");
    }

    /// <summary>The figure.</summary>
    /// <param name="method">The method.</param>
    /// <param name="reference">Its reference.</param>
    /// <param name="point">Where.</param>
    /// <param name="side">Mark for sources that the other design does not share.</param>
    /// <param name="repeatability">Scatter of a single run where one run shows none, as a share; null: not known. [1]</param>
    public static (RunsFigure? Figure, string? WhyNot) Of(DesignMethod method, DesignMethod reference, MeasuringPoint point, string side,
        double? repeatability)
    {
        // A block that both were made in does the same to both.
        bool sameBlocks = method.Runs.Select(r => r.Block).ToHashSet().SetEquals(reference.Runs.Select(r => r.Block));
        var (above, whyNot) = DesignFigures.Of(method, point, CheckedFigure.EnergyPerCharge, side, repeatability, sameBlocks);
        var (below, noReference) = DesignFigures.Of(reference, point, CheckedFigure.EnergyPerCharge, side, repeatability, sameBlocks);
        if (above is null || below is null || below.Value.Value <= 0)
        {
            return (null, whyNot ?? noReference ?? "its reference shows no energy");
        }

        var ratio = Measured.Quotient(above.Value, below.Value);
        int runs = Math.Min(above.Runs, below.Runs);
        if (above.ScatterSource is null || below.ScatterSource is null)
        {
            return (new RunsFigure(ratio, runs, null) { WithReference = true, OneBlock = above.OneBlock || below.OneBlock }, null);
        }

        // The scatters of both are one scatter of the ratio.
        var scatter = ratio.Components.Where(c => c.Source == above.ScatterSource || c.Source == below.ScatterSource).ToList();
        var together = InfluenceSource.ScatterOf(method.Name, $"{StudyWords.Of(point)}-overhead") with
        {
            DegreesOfFreedom = CoverageFactor.EffectiveDegreesOfFreedom(scatter),
            Design = side,
        };
        double u = Math.Sqrt(scatter.Sum(c => c.Variance));
        var whole = Measured.From(
            ratio.Value, ratio.Unit, [.. ratio.Components.Where(c => !scatter.Contains(c)), new UncertaintyComponent(together, u)],
                ratio.UnknownBecause);
        return (new RunsFigure(whole, runs, together) { WithReference = true, InBlocks = above.InBlocks || below.InBlocks }, null);
    }

    private static SortedSet<string> MetersOfRuns(DesignMethod method, MeasuringPoint point) =>
        new(method.Runs.Where(r => r.Points.ContainsKey(point)).Select(r => r.Points[point].Meter ?? "(not named)"),
            StringComparer.Ordinal);
}
