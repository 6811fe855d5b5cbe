using System.Buffers;
using System.Runtime.InteropServices;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Finds the step of the lattice on which a meter's readings lie.</summary>
internal static class Lattice
{
    private const int FewestSteps = 6;
    private const int ManyRows = 200;
    private const double Share = 0.98;
    private const int MostShelvesOfEach = 8;

    /// <summary>How near to a whole multiple counts as one. [1]</summary>
    private const double Near = 0.02;

    /// <summary>Readings that lie anywhere may look like a lattice this often.</summary>
    private const double ByChance = 1e-4;

    /// <summary>
    /// The smallest difference between neighbouring different values, provided that nearly all are whole multiples of it apart and that
    /// there are so many of them that this is not chance: two values are a multiple of their own difference apart, and so are many triples
    /// of a few printed places. Where values differ by one printed place, that place is the step.
    /// </summary>
    /// <param name="values">Readings in any order; NaN is passed over.</param>
    /// <param name="printed">One in the last place printed, in the readings' unit; zero where not known.</param>
    /// <returns>The step, in the readings' unit; null where the values show no lattice, or too few different ones.</returns>
    public static double? Step(IEnumerable<double> values, double printed = 0)
    {
        double[] readings = [.. values.Where(double.IsFinite)];
        return Step(readings.Length, Different(readings), printed);
    }

    /// <summary>The different values among readings, in rising order.</summary>
    /// <param name="readings">Readings in any order; what is not finite is passed over.</param>
    /// <param name="printed">One in the last place printed, in the readings' unit; zero where not known.</param>
    public static double[] Different(double[] readings, double printed = 0) => ByPlace(readings, printed) ?? BySorting(readings);

    // Printed values are whole multiples of one in the last place, so that each falls on a shelf of its own, and no sort is needed. Null where
    // two different values meet on one, or where there would be many more shelves than readings.
    private static double[]? ByPlace(double[] readings, double printed)
    {
        double least = double.PositiveInfinity, greatest = double.NegativeInfinity;
        foreach (double value in readings)
        {
            if (double.IsFinite(value))
            {
                (least, greatest) = (Math.Min(least, value), Math.Max(greatest, value));
            }
        }

        double places = (greatest - least) / printed;
        if (!(places >= 0 && places < MostShelvesOfEach * readings.Length))
        {
            return null;
        }

        double[] shelves = ArrayPool<double>.Shared.Rent((int)places + 2);
        shelves.AsSpan(0, (int)places + 2).Fill(double.NaN);
        int count = 0;
        foreach (double value in readings)
        {
            if (!double.IsFinite(value))
            {
                continue;
            }

            ref double shelf = ref shelves[(int)(((value - least) / printed) + 0.5)];
            if (double.IsNaN(shelf))
            {
                shelf = value;
                count++;
            }
            else if (shelf != value)
            {
                count = -1;
                break;
            }
        }

        double[]? different = count < 0 ? null : new double[count];
        int at = 0;
        for (int i = 0; at < count; i++)
        {
            if (!double.IsNaN(shelves[i]))
            {
                different![at++] = shelves[i];
            }
        }

        ArrayPool<double>.Shared.Return(shelves);
        return different;
    }

    private static double[] BySorting(double[] readings)
    {
        double[] sorted = Array.FindAll(readings, double.IsFinite);
        RisingOrder.Sort(sorted);
        int count = 0;
        for (int i = 0; i < sorted.Length; i++)
        {
            if (i == 0 || sorted[i] != sorted[count - 1])
            {
                // Of zeros with either sign the one that was read first.
                sorted[count++] = sorted[i] == 0 ? Array.Find(readings, r => r == 0) : sorted[i];
            }
        }

        return sorted[..count];
    }

    /// <inheritdoc cref="Step(IEnumerable{double}, double)"/>
    /// <param name="rows">Number of readings.</param>
    /// <param name="different">Their different values, in rising order.</param>
    /// <param name="printed">One in the last place printed; zero where not known.</param>
    public static double? Step(int rows, double[] different, double printed)
    {
        if (different.Length < 2)
        {
            return null;
        }

        // Values that are printed alike may differ in the last bit once they are scaled.
        double tiny = Math.Max(1e-9 * Math.Max(Math.Abs(different[0]), Math.Abs(different[^1])), 0.01 * printed);
        var steps = new List<double>(different.Length);
        double step = double.PositiveInfinity;
        for (int i = 1; i < different.Length; i++)
        {
            double apart = different[i] - different[i - 1];
            if (apart > tiny)
            {
                steps.Add(apart);
                step = Math.Min(step, apart);
            }
        }

        if (steps.Count == 0)
        {
            return null;
        }

        if (step < 1.5 * printed)
        {
            return printed;
        }

        // Hundreds of rows that go from one value to that two printed places further and never to the one between.
        bool skipsEveryOther = step < 2.5 * printed && rows >= ManyRows;
        return (skipsEveryOther || steps.Count >= StepsNeeded(step, printed))
            && IsMultiple(CollectionsMarshal.AsSpan(steps), step) >= Share * steps.Count
            ? step
            : null;
    }

    /// <summary>
    /// The step of a counter that stands still in most rows: it moves by whole steps, so its smallest move is one, or several, of them. A
    /// few moves are enough, as a counter that counted more finely would move in each row. Null where it moves in most rows, or its moves
    /// are not multiples of the smallest.
    /// </summary>
    /// <param name="readings">Readings in the order of rows; NaN is passed over.</param>
    public static double? CounterStep(IEnumerable<double> readings)
    {
        double[] rows = [.. readings.Where(double.IsFinite)];
        double[] moves = [.. rows.Zip(rows.Skip(1), (a, b) => b - a).Where(m => m > 1e-9 * Math.Abs(rows[^1])).Order()];
        return moves.Length > 0 && 2 * moves.Length < rows.Length - 1 && IsMultiple(moves, moves[0]) == moves.Length ? moves[0] : null;
    }

    // Each difference lies on a lattice by chance once in as many cases as the step has printed places, or once in 1/(2·Near) where these
    // are many.
    private static double StepsNeeded(double step, double printed)
    {
        double byChance = Math.Min(0.5, Math.Max(2 * Near, printed / step));
        return Math.Max(FewestSteps, 1 + Math.Ceiling(Math.Log(ByChance) / Math.Log(byChance)));
    }

    private static int IsMultiple(ReadOnlySpan<double> differences, double step)
    {
        int multiples = 0;
        foreach (double d in differences)
        {
            multiples += Math.Abs((d / step) - Math.Round(d / step)) < Near ? 1 : 0;
        }

        return multiples;
    }
}
