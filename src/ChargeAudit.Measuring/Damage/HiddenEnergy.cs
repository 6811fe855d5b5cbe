using System.Globalization;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring.Damage;

/// <summary>What damaged readings may hide of a stretch's energy.</summary>
internal static class HiddenEnergy
{
    /// <summary>Components for readings that were left out singly, and for hours that may not have passed. [J]</summary>
    public static IEnumerable<UncertaintyComponent> Components(LogSummary summary, string logId, double fromS, double toS)
    {
        double hiddenJ = summary.Rules.Marked.Where(m => m.ToS >= fromS && m.FromS <= toS).Sum(m => m.HiddenJ);
        if (hiddenJ > 0)
        {
            yield return new(InfluenceSource.OfLog(logId, SourceKind.Gap, "left-out-readings", ErrorShape.Rectangular), hiddenJ / Math.Sqrt(3));
        }

        // The bridge's own uncertainty falls short of nothing at all by a twentieth.
        foreach (var gap in ClockAhead.Find(summary).Where(g => g.ToS > fromS && g.FromS < toS))
        {
            yield return new(InfluenceSource.OfLog(logId, SourceKind.Gap, $"clock-at-line-{gap.Line}", ErrorShape.Rectangular), 0.5 * gap.EnergyJ);
        }
    }

    /// <summary>Why a stretch's uncertainty cannot be told, as a clause; null where it can.</summary>
    public static string? UnknownBecause(LogSummary summary, double fromS, double toS) =>
        summary.Rules.Marked.FirstOrDefault(m => m.Kind == FaultKind.Clipped && m.ToS >= fromS && m.FromS <= toS) is { } clipped
            ? string.Create(CultureInfo.InvariantCulture, $"the meter's range was exceeded from {clipped.FromS:F0} to {clipped.ToS:F0} s, and what flowed above it is not known")
            : null;
}
