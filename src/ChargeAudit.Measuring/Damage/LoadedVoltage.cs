using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Whether a voltage is that of a supply under load though the current beside it reads zero. Cable and supply have a resistance: where the
/// log shows it, as a straight line of voltage over current, a pause lets the voltage rise to the end of that line. Where the current was
/// lost and not the load, the voltage stays where it was. The line of a supply is worked out once. Mutable; one log.
/// </summary>
/// <param name="cells">The readings.</param>
/// <param name="stepV">The voltage's step. [V]</param>
internal sealed class LoadedVoltage(ReadingCell[] cells, double stepV)
{
    private const int Beside = 4;
    private const int LeastCells = 30;

    // Of the same supply: a charger that goes to another voltage has another line. Voltages within a hundredth share theirs. [1]
    private const double SameSupply = 0.1;
    private const double SharedLine = 0.01;

    // Currents have to differ by this share of that beside the zeros before a line is believed, and the line has to leave little. [1]
    private const double LeastRange = 0.3;
    private const double LeastExplained = 0.8;

    // The rise that a pause makes, in scatters of the voltage about its line.
    private const double LeastRise = 5;

    // And in steps of the voltage.
    private const double LeastSteps = 3;

    // Share of that rise within which the voltage stays as under load. [1]
    private const double Stays = 0.25;
    private const double LoadedAtEnd = 0.5;
    private const double IdleShare = 0.1;

    private readonly Dictionary<int, Line?> _lines = [];

    /// <summary>Whether it is so in a run of zeros that is no shorter than three rows.</summary>
    /// <param name="from">First of the run; five or more lie before it.</param>
    /// <param name="to">Its last; five or more lie behind it.</param>
    public bool IsIn(int from, int to)
    {
        if (to - from < 2)
        {
            return false;
        }

        // The cells at the ends of the run may be means with a good row.
        double beforeA = Middle(from - 1 - Beside, from - 2, c => c.MeanA);
        double afterA = Middle(to + 2, to + 1 + Beside, c => c.MeanA);
        double mostA = Math.Max(beforeA, afterA);
        double supplyV = beforeA > afterA
            ? Middle(from - 1 - Beside, from - 2, c => c.MeanV)
            : Middle(to + 2, to + 1 + Beside, c => c.MeanV);
        if (!(supplyV > 0 && mostA > 0) || LineOf(supplyV, mostA) is not { } line)
        {
            return false;
        }

        // At an end of the charge only one side has a current.
        bool isAtEnd = Math.Min(beforeA, afterA) < IdleShare * mostA;
        double leastA = isAtEnd ? mostA : Math.Min(beforeA, afterA);
        double rise = -line.SlopeOhm * leastA;
        double share = (line.OpenV - Middle(from + 1, to - 1, c => c.MeanV)) / rise;
        return Math.Abs(rise) > Math.Max(LeastRise * line.ScatterV, LeastSteps * stepV)
            && share > (isAtEnd ? LoadedAtEnd : 1 - Stays) && share < (mostA / leastA) + Stays;
    }

    /// <summary>The rows at an end of a run of zeros whose voltage is nearer to that of the charge beside them than to that of no load;
    /// null where that is not so at one end alone, or not for three rows.</summary>
    /// <param name="from">First of the run.</param>
    /// <param name="to">Its last.</param>
    public (int From, int To)? LoadedPart(int from, int to)
    {
        bool isAfter = from < 2 + Beside || cells[from - 2].MeanA < cells[Math.Min(to + 2, cells.Length - 1)].MeanA;
        int beside = isAfter ? to + 2 : from - 2;
        if (to - from < 2 || beside < 0 || beside >= cells.Length || !(cells[beside].MeanA > 0 && cells[beside].MeanV > 0)
            || LineOf(cells[beside].MeanV, cells[beside].MeanA) is not { } line)
        {
            return null;
        }

        // The cells at the ends of the run may be means with a good row.
        int loaded = 1, direction = isAfter ? -1 : 1;
        for (int i = (isAfter ? to : from) + direction; i > from && i < to; i += direction)
        {
            if ((cells[i].MeanV - line.OpenV) / (line.SlopeOhm * cells[beside].MeanA) < LoadedAtEnd)
            {
                return loaded < 3 ? null : isAfter ? (to + 1 - loaded, to) : (from, from + loaded - 1);
            }

            loaded++;
        }

        return null;
    }

    // Voltage over current while this supply gives current; null where there is no clear line.
    private Line? LineOf(double supplyV, double currentA)
    {
        int supply = (int)Math.Round(Math.Log(supplyV) / SharedLine);
        if (!_lines.TryGetValue(supply, out var line))
        {
            _lines[supply] = line = Fitted(Math.Exp(supply * SharedLine));
        }

        return line is { } found && found.RangeA >= LeastRange * currentA ? found : null;
    }

    private Line? Fitted(double supplyV)
    {
        ReadingCell[] loaded = Array.FindAll(cells,
            c => c.MinW > 0 && c.MeanA > 0 && Math.Abs(c.MeanV - supplyV) < SameSupply * supplyV);
        double[] currentsA = Array.ConvertAll(loaded, c => c.MeanA);
        double rangeA = loaded.Length < LeastCells ? 0 : currentsA.Max() - currentsA.Min();
        if (rangeA == 0)
        {
            return null;
        }

        var fit = LeastSquaresFit.Line(currentsA, Array.ConvertAll(loaded, c => c.MeanV));
        return fit.RSquared >= LeastExplained
            ? new Line(fit.Coefficients[0], fit.Slope, Math.Sqrt(fit.ResidualSumOfSquares / loaded.Length), rangeA)
            : null;
    }

    private double Middle(int from, int to, Func<ReadingCell, double> of) => HighMedian.Of([.. cells[from..(to + 1)].Select(of)]);

    // Voltage over current of a supply, how far its readings scatter about it, and over what range of currents it was found.
    private readonly record struct Line(double OpenV, double SlopeOhm, double ScatterV, double RangeA);
}
