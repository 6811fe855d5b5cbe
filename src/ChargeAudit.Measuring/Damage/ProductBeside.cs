using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A column of power beside voltage and current on direct current, which is their product row by row, and from one row on is not: columns
/// that changed places, or one of another unit or device. A display that lags behind a load catches up within a minute. Pure functions.
/// </summary>
internal static class ProductBeside
{
    private const int Rows = 20;
    private const double LeastS = 60;
    private const double Same = 1.05;
    private const double Other = 1.25;

    // Near nothing the steps of a meter make any ratio. [W]
    private const double LeastW = 0.05;
    private const double LeastMostW = 1;

    /// <summary>The time from which power is no longer voltage times current; null where there is none.</summary>
    public static double? PartsAtS(ReadingCell[] cells, SummaryRules rules, PowerEnvelope envelope)
    {
        if (rules.Source != PowerSource.PowerColumn
            || !rules.IsDirect(envelope.VoltSecondsBetween(double.NegativeInfinity, double.PositiveInfinity),
                envelope.CoveredBetweenS(double.NegativeInfinity, double.PositiveInfinity)))
        {
            return null;
        }

        var seen = new List<(double TimeS, double Log)>();
        foreach (ref readonly var cell in cells.AsSpan())
        {
            double product = cell.MeanV * cell.MeanA;
            if (Math.Min(product, cell.MeanW) > LeastW && Math.Max(product, cell.MeanW) > LeastMostW)
            {
                seen.Add((cell.FromS, Math.Log(cell.MeanW / product)));
            }
        }

        for (int i = Rows; i + Rows <= seen.Count; i++)
        {
            if (Math.Abs(seen[i].Log) > Math.Log(Other) && IsSame(seen, i) && StaysOther(seen, i))
            {
                // The mean over a cell between an old and a new reading is neither.
                return seen[Math.Abs(seen[i].Log - seen[i + 1].Log) > Math.Log(Same) ? i + 1 : i].TimeS;
            }
        }

        return null;
    }

    // The mean over the cell before may hold a row of either kind.
    private static bool IsSame(List<(double TimeS, double Log)> seen, int end)
    {
        for (int i = end - Rows; i < end - 1; i++)
        {
            if (Math.Abs(seen[i].Log) > Math.Log(Same))
            {
                return false;
            }
        }

        return true;
    }

    private static bool StaysOther(List<(double TimeS, double Log)> seen, int from)
    {
        int sign = Math.Sign(seen[from].Log), at = from;
        while (at < seen.Count && (at - from < Rows || seen[at].TimeS - seen[from].TimeS < LeastS))
        {
            if (seen[at].Log * sign < Math.Log(Other))
            {
                return false;
            }

            at++;
        }

        return at - from >= Rows && seen[at - 1].TimeS - seen[from].TimeS >= LeastS - (seen[from + 1].TimeS - seen[from].TimeS);
    }
}
