using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring.Counting;

/// <summary>
/// Starts of charges by the rows of a counter where power comes from it alone and a row of the charge holds several of its steps. The
/// advance over a row gives the mean power in it, so the row in which the charge started is the first that advances by more than any idle
/// one, and its height tells when. Pure.
/// </summary>
internal static class CounterStarts
{
    /// <summary>A row of the charge holds at least so many steps. [1]</summary>
    public const double StepsInRow = 5;

    /// <summary>So many idle rows show the idle level. [1]</summary>
    private const int IdleRows = 3;

    /// <summary>Rows at the start that tell its level. [1]</summary>
    private const int LevelRows = 5;

    /// <summary>A row this share of the way up to the charge is the charge's. [1]</summary>
    private const double ClearShare = 0.25;

    /// <summary>Equal powers advance the counter by the same, give or take a step; this many steps more mean another power. [1]</summary>
    private const double OtherSteps = 2;

    private readonly record struct Row(double FromS, double ToS, double EnergyJ)
    {
        public double LengthS => ToS - FromS;

        public double PowerW => EnergyJ / LengthS;
    }

    /// <summary>The modes with other starts of their charges, and which starts those are. [s]</summary>
    /// <param name="modes">The modes, in order, without holes.</param>
    /// <param name="summary">The finished summary.</param>
    public static (IReadOnlyList<ModeSpan> Modes, IReadOnlySet<double> StartsS) Of(IReadOnlyList<ModeSpan> modes, LogSummary summary)
    {
        var startsS = new HashSet<double>();
        double stepJ = summary.CounterStepJ;
        if (summary.Rules.Source != PowerSource.EnergyCounter || !(stepJ > 0) || summary.Counted.Count < 2)
        {
            return (modes, startsS);
        }

        var rows = Rows(summary.Counted);
        var changed = new List<ModeSpan>(modes);
        for (int i = 1; i < changed.Count; i++)
        {
            var before = changed[i - 1];
            if (changed[i].Mode == Mode.Charge && before.Mode is Mode.NoLoad or Mode.Off
                && Start(rows, before.StartS, changed[i], stepJ) is { } start
                && start.TimeS > before.StartS && start.TimeS < changed[i].EndS)
            {
                changed[i - 1] = before with { EndS = start.TimeS, EndUncertaintyS = start.UncertaintyS, EndErrors = null };
                changed[i] = changed[i] with { StartS = start.TimeS, StartUncertaintyS = start.UncertaintyS, StartErrors = null };
                startsS.Add(start.TimeS);
            }
        }

        return (changed, startsS);
    }

    private static List<Row> Rows(IReadOnlyList<(double TimeS, double EnergyJ)> counted)
    {
        var rows = new List<Row>(counted.Count);
        for (int i = 1; i < counted.Count; i++)
        {
            if (counted[i].TimeS > counted[i - 1].TimeS)
            {
                rows.Add(new Row(counted[i - 1].TimeS, counted[i].TimeS, counted[i].EnergyJ - counted[i - 1].EnergyJ));
            }
        }

        return rows;
    }

    private static Border? Start(List<Row> rows, double idleFromS, ModeSpan charge, double stepJ)
    {
        int first = rows.FindIndex(r => r.FromS >= idleFromS);
        int found = rows.FindIndex(r => r.ToS > charge.StartS);
        if (first >= 0 && found > first && rows[found].EnergyJ <= rows[first..found].Max(r => r.EnergyJ) + (OtherSteps * stepJ))
        {
            found++;
        }

        if (charge.OpenAtStart is not null || first < 0 || found - first < IdleRows
            || LevelW(rows, found + 1, charge.EndS) is not { } chargeW)
        {
            return null;
        }

        double idleW = Median(rows[first..found]);
        double clearW = idleW + (ClearShare * (chargeW - idleW));
        int row = found;
        while (row - 1 > first && rows[row - 1].PowerW >= clearW)
        {
            row--;
        }

        if (row - first < IdleRows || !(chargeW * rows[row].LengthS >= StepsInRow * stepJ))
        {
            return null;
        }

        // The idle rows, but for the one that may hold the start.
        double mostIdleJ = rows[first..(row - 1)].Max(r => r.EnergyJ) + (OtherSteps * stepJ);
        bool IsIdle(int index) => rows[index].EnergyJ <= mostIdleJ;
        if (!IsIdle(row - 1))
        {
            row--;
        }
        else if (IsIdle(row) && row + 1 < rows.Count && !IsIdle(row + 1))
        {
            row++;
        }

        // A row that is longer than the others holds a gap, and the start may lie anywhere in it.
        var start = rows[row];
        double aboveJ = start.EnergyJ - (idleW * start.LengthS);
        double inChargeS = Math.Clamp(aboveJ / (chargeW - idleW), 0, start.LengthS);
        return new Border(start.ToS - inChargeS, start.LengthS / Math.Sqrt(12));
    }

    private static double? LevelW(List<Row> rows, int from, double endS)
    {
        var level = rows.Skip(from).Take(LevelRows).TakeWhile(r => r.ToS <= endS).ToList();
        return level.Count == 0 ? null : Median(level);
    }

    private static double Median(List<Row> rows)
    {
        var powers = rows.Select(r => r.PowerW).Order().ToList();
        return powers[powers.Count / 2];
    }
}
