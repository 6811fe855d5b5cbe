using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Analysis.Measuring;

/// <summary>What cannot flow back is not below zero: an interval that reaches there is cut at zero. The standard uncertainty stays, for whatever is worked out from the figure.</summary>
internal static class ZeroCut
{
    /// <summary>The figure with its interval cut at zero, where it is not below zero itself and reaches there.</summary>
    /// <param name="figure">A power or an energy of a line on which flow cannot reverse.</param>
    public static Measured Of(Measured figure)
    {
        if (figure.Value < 0 || figure.Interval() is not { Low: < 0 })
        {
            return figure;
        }

        return figure.WithInterval(coverage =>
        {
            var uncut = figure.Interval(coverage)!.Value;
            return uncut with { Low = Math.Max(0, uncut.Low) };
        });
    }
}
