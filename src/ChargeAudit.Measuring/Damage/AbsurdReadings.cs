using System.Globalization;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Single readings far above all that the log keeps up. What a log keeps up is the greatest value that the middle of five neighbouring readings reaches: a glitch of one or two rows
/// cannot raise it. A reading above three times that, and above 18 W, is left out; pulses of a waiting pad and the rush of current at plugging in stay below.
/// </summary>
internal static class AbsurdReadings
{
    private const double TimesKeptUp = 3;
    private const double LeastKeptUpW = 6;
    private const int Window = 5;
    private const int LeastCells = 20;

    // More than a row's energy in a cell is a burst, however short.
    private const double RowsOfAGlitch = 2.5;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules)
    {
        if (cells.Length < LeastCells)
        {
            yield break;
        }

        double keptUpW = KeptUpW(cells);
        double limitW = TimesKeptUp * Math.Max(keptUpW, LeastKeptUpW);
        foreach (var cell in cells.Where(c => c.MaxW > limitW))
        {
            double rows = Math.Max(0, cell.MeanW) * (cell.ToS - cell.FromS) / (cell.MaxW * rules.MedianIntervalS);
            if (!(rows > RowsOfAGlitch))
            {
                double shiftS = StampShift.Of(rules);

                // Between the rows beside it anything may have flowed from nothing to what the log keeps up.
                yield return new MarkedStretch(cell.FromS + shiftS, cell.ToS + shiftS, FaultKind.Implausible, string.Create(
                    CultureInfo.InvariantCulture,
                    $"readings of up to {cell.MaxW:G5} W stand alone in a log that nowhere keeps above {keptUpW:G4} W; they were left out"))
                {
                    AboveW = limitW,
                    HiddenJ = Math.Max(keptUpW, 0) * 2 * rules.MedianIntervalS,
                };
            }
        }
    }

    /// <summary>The greatest value that the middle one of five neighbours reaches. [W]</summary>
    public static double KeptUpW(ReadingCell[] cells)
    {
        double greatest = double.NegativeInfinity;
        Span<double> near = stackalloc double[Window];
        for (int i = 0; i + Window <= cells.Length; i++)
        {
            for (int j = 0; j < Window; j++)
            {
                near[j] = cells[i + j].MaxW;
            }

            near.Sort();
            greatest = Math.Max(greatest, near[Window / 2]);
        }

        return greatest;
    }
}
