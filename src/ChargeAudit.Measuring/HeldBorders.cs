using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring;

/// <summary>
/// How certain borders are in a log that is written on change. A change of the threshold or more is written when it happens. Where a mode
/// ends with a smaller one, as when the end of a fall lies near the level of the full device, nothing is written then, and only a later row
/// shows it: the border lies anywhere since the row before. Pure functions.
/// </summary>
internal static class HeldBorders
{
    /// <summary>A change of less than this share of the threshold was written for another reason. [1]</summary>
    private const double OfThreshold = 0.9;

    /// <summary>A border lies at a row if it is no more than this many cells, or looks, away. [1]</summary>
    private const double AtRowCells = 3;

    private readonly record struct Row(double TimeS, double PowerW, double ThresholdW);

    /// <summary>The change of power that goes unwritten at the log's mean; zero where none does. [W]</summary>
    /// <param name="summary">The finished summary.</param>
    public static double UnwrittenW(LogSummary summary)
    {
        double coveredS = summary.CoveredS.Value;
        return summary.Rules is { Samples: SampleKind.OnChange, ChangeThreshold: { } threshold } && coveredS > 0
            ? threshold.InPowerW(summary.EnergyJ.Value / coveredS, summary.VoltSeconds.Value / coveredS)
            : 0;
    }

    /// <summary>The modes with such borders moved between the two rows; the same ones where there are none.</summary>
    /// <param name="modes">The modes, in order, without holes.</param>
    /// <param name="summary">The finished summary.</param>
    public static IReadOnlyList<ModeSpan> Of(IReadOnlyList<ModeSpan> modes, LogSummary summary)
    {
        if (summary.Rules is not { Samples: SampleKind.OnChange, ChangeThreshold: { } threshold } || modes.Count < 2
            || summary.Rules.Source == PowerSource.EnergyCounter)
        {
            return modes;
        }

        var rows = Rows(summary.Envelope, threshold);
        double near = Math.Max(AtRowCells * summary.Envelope.BucketWidthS, threshold.LookS);
        var moved = new List<ModeSpan>(modes);
        for (int i = 1; i < moved.Count; i++)
        {
            var (before, after) = (moved[i - 1], moved[i]);
            int row = rows.FindIndex(r => r.TimeS >= before.EndS - near);
            if (row < 1 || rows[row].TimeS > before.EndS + near
                || Math.Abs(rows[row].PowerW - rows[row - 1].PowerW) >= OfThreshold * rows[row].ThresholdW)
            {
                continue;
            }

            double lengthS = rows[row].TimeS - rows[row - 1].TimeS;
            double middleS = Math.Clamp(rows[row].TimeS - (0.5 * lengthS), before.StartS, after.EndS);
            double u = Math.Sqrt((before.EndUncertaintyS * before.EndUncertaintyS) + (lengthS * lengthS / 12));
            moved[i - 1] = before with { EndS = middleS, EndUncertaintyS = u };
            moved[i] = after with { StartS = middleS, StartUncertaintyS = u };
        }

        return moved;
    }

    // A cell holds one row, or the last of several.
    private static List<Row> Rows(PowerEnvelope envelope, ChangeThreshold threshold)
    {
        var rows = new List<Row>();
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            if (cell.Readings > 0)
            {
                double before = rows.Count > 0 ? rows[^1].PowerW : cell.MaxPowerW;
                double power = Math.Abs(cell.MinPowerW - before) > Math.Abs(cell.MaxPowerW - before) ? cell.MinPowerW : cell.MaxPowerW;
                double volts = cell.CoveredS.Value > 0 ? cell.VoltSeconds.Value / cell.CoveredS.Value : 0;
                rows.Add(new Row(envelope.StartS(i), power, threshold.InPowerW(power, volts)));
            }
        }

        return rows;
    }
}
