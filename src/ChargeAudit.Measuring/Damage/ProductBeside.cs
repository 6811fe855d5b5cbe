using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A column of power beside voltage and current on direct current, which is their product row by row, and from one row on is not: columns
/// that changed places, or one of another unit or device. A display that lags behind a load catches up within a minute, and pulses of a pad
/// that waits fill no minute. Pure functions.
/// </summary>
internal static class ProductBeside
{
    private const int Rows = 20;
    private const double LeastS = 60;
    private const double Same = 1.05;
    private const double Other = 1.25;

    // Near nothing the steps of a meter make any ratio. [W]
    private const double LeastW = 0.3;
    private const double LeastMostW = 1;

    /// <summary>The time from which power is no longer voltage times current; null where there is none.</summary>
    public static double? PartsAtS(ReadingCell[] cells, LogSummary summary)
    {
        if (summary.Rules.Source != PowerSource.PowerColumn || !summary.IsDirect)
        {
            return null;
        }

        // Rows on end in which power is the product, and the sign of what it is off by in a row that is not.
        int same = 0;
        for (int i = 0; i + Rows <= cells.Length; i++)
        {
            double log = LogRatio(in cells[i]);
            if (Math.Abs(log) <= Math.Log(Same))
            {
                same++;
                continue;
            }

            // The mean over the cell of the change may hold a row of either kind.
            for (int first = i; same >= Rows && first <= i + 1; first++)
            {
                if (StaysOther(cells, first))
                {
                    bool isMixed = Math.Abs(LogRatio(in cells[first]) - LogRatio(in cells[first + 1])) > Math.Log(Same);
                    return cells[isMixed ? first + 1 : first].FromS;
                }
            }

            same = 0;
        }

        return null;
    }

    // Power for the product; NaN where either is too small to tell.
    private static double LogRatio(in ReadingCell cell)
    {
        double product = cell.MeanV * cell.MeanA;
        return Math.Min(product, cell.MeanW) > LeastW && Math.Max(product, cell.MeanW) > LeastMostW
            ? Math.Log(cell.MeanW / product)
            : double.NaN;
    }

    private static bool StaysOther(ReadingCell[] cells, int from)
    {
        if (from >= cells.Length)
        {
            return false;
        }

        int sign = Math.Sign(double.IsNaN(LogRatio(in cells[from])) ? 0 : LogRatio(in cells[from]));
        for (int at = from; at < cells.Length; at++)
        {
            if (at - from >= Rows && cells[at].FromS - cells[from].FromS >= LeastS)
            {
                return true;
            }

            if (!(LogRatio(in cells[at]) * sign >= Math.Log(Other)))
            {
                return false;
            }
        }

        return false;
    }
}
