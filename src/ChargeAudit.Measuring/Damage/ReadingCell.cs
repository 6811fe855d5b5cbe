using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Damage;

/// <summary>A cell of the envelope that holds readings: one, or a few in a long log.</summary>
/// <param name="FromS">Start. [s]</param>
/// <param name="ToS">End. [s]</param>
/// <param name="MinW">Least reading. [W]</param>
/// <param name="MaxW">Greatest reading. [W]</param>
/// <param name="MeanW">Mean power over the covered time; NaN where none is covered. [W]</param>
/// <param name="MeanV">Mean voltage; NaN where the cell is not covered. [V]</param>
/// <param name="MeanA">Mean current; NaN where the cell is not covered. [A]</param>
/// <param name="Readings">How many readings.</param>
internal readonly record struct ReadingCell(double FromS, double ToS, double MinW, double MaxW, double MeanW, double MeanV,
    double MeanA, long Readings)
{
    // Of a log of some hours; more are not kept at hand.
    private const int MostSpare = 1 << 14;

    // Logs of a rack often have as many rows each. These arrays are large, and made anew for each log they would set off a collection of
    // all garbage at every second one.
    [ThreadStatic]
    private static ReadingCell[]? _spare;

    /// <summary>Whether all readings are equal.</summary>
    public bool IsFlat => MinW == MaxW;

    /// <summary>Middle of the readings' range. [W]</summary>
    public double MiddleW => 0.5 * (MinW + MaxW);

    /// <summary>The cells of a log that hold readings, in order of time.</summary>
    public static ReadingCell[] Of(PowerEnvelope envelope)
    {
        // Counted first: these are several megabytes of a long log, and a list would hold them twice.
        int count = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            count += envelope[i].Readings > 0 ? 1 : 0;
        }

        var cells = _spare?.Length == count ? _spare : new ReadingCell[count];
        _spare = null;
        for (int i = 0, next = 0; next < count; i++)
        {
            ref readonly var cell = ref envelope[i];
            if (cell.Readings > 0)
            {
                double covered = cell.CoveredS.Value > 0 ? cell.CoveredS.Value : double.NaN;
                cells[next++] = new ReadingCell(
                    envelope.StartS(i), envelope.StartS(i + 1), cell.MinPowerW, cell.MaxPowerW, cell.MeanPowerW,
                    cell.VoltSeconds.Value / covered, cell.ChargeC.Value / covered, cell.Readings);
            }
        }

        return cells;
    }

    /// <summary>Leaves cells that nobody looks at any more to the next log.</summary>
    public static void GiveBack(ReadingCell[] cells) => _spare = cells.Length <= MostSpare ? cells : null;
}
