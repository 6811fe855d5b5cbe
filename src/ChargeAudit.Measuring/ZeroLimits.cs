using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring;

/// <summary>
/// How far below zero a reading may lie and still be a zero of this meter: the fixed part of its stated accuracy and two steps of its
/// display. Such a reading is integrated as it stands, sign included, because leaving the negative half of an error about zero out would
/// turn it into energy. A current's limit counts at the voltage of the row.
/// </summary>
/// <remarks>
/// Where nothing is stated: 50 mW, and 10 mA where a direct voltage is logged beside it; 0.5 W at the wall. <i>Source:</i> common practice,
/// no source.
/// </remarks>
internal static class ZeroLimits
{
    private const double LeastW = 0.05;
    private const double UnstatedAtWallW = 0.5;
    private const double UnstatedA = 0.01;
    private const double CoarsestStepW = 1;
    private const double CoarsestStepA = 0.1;

    /// <summary>The rules with the limits of this meter in them.</summary>
    public static SummaryRules In(SummaryRules rules, LogLayout layout, Meter? meter)
    {
        var accuracies = meter?.Accuracy ?? Meter.Unknown;
        double? Stated(LogQuantity quantity)
        {
            double step = Step(layout, quantity);
            return accuracies.TryGetValue(quantity, out var accuracy)
                && accuracy.Clauses[0].FixedPart(accuracy.Resolution ?? step) is { } part
                ? part + (2 * Math.Max(step, accuracy.Resolution ?? 0))
                : null;
        }

        double? power = rules.Source == PowerSource.PowerColumn ? Stated(LogQuantity.Power) : null;
        double? current = layout.Has(LogQuantity.Voltage) ? Stated(LogQuantity.Current) : null;
        bool stated = power is not null || current is not null;
        double unstatedW = rules.AtTheWall ? UnstatedAtWallW : LeastW;
        return rules with
        {
            ReversedBelowW = -Math.Max(Math.Max(LeastW, 2 * Step(layout, LogQuantity.Power)), power ?? (stated ? 0 : unstatedW)),
            ReversedBelowA = -(current ?? (stated ? 0 : UnstatedA)),
        };
    }

    // A log of few different values shows the distance between them, which is not a step of a display that resolves a charge.
    private static double Step(LogLayout layout, LogQuantity column) =>
        layout.Resolution.GetValueOrDefault(column, 0) is var step && step <= (column == LogQuantity.Power ? CoarsestStepW : CoarsestStepA)
            ? step
            : 0;

    /// <summary>How far below zero a reading of a log lies at most and still is a zero of its meter, at the log's mean voltage.
    /// [W]</summary>
    public static double PowerW(LogSummary summary)
    {
        double covered = summary.CoveredS.Value;
        bool direct = covered > 0 && summary.IsDirect;
        return Math.Max(-summary.Rules.ReversedBelowW, direct ? -summary.Rules.ReversedBelowA * summary.VoltSeconds.Value / covered : 0);
    }
}
