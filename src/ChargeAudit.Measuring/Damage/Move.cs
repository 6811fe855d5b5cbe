namespace ChargeAudit.Measuring.Damage;

/// <summary>How readings move beside a place: by which step they go from value to value, how long a value lasts, and whether all go one
/// way.</summary>
/// <param name="Sign">1 up, -1 down, 0 both ways.</param>
/// <param name="StepW">The usual step from value to value. [W]</param>
/// <param name="Rows">Readings that a value lasts, usually.</param>
internal readonly record struct Move(int Sign, double StepW, double Rows)
{
    private const int Values = 6;

    // A value may last long in a slow move; further away it is another time.
    private const int MostCells = 400;

    /// <summary>The readings that lead to a place.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="end">Just past the last of them.</param>
    /// <param name="move">The move.</param>
    public static bool Before(ReadingCell[] cells, int end, out Move move) => Of(cells, end - 1, -1, out move);

    /// <summary>The readings after a place.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="last">The last before them.</param>
    /// <param name="move">The move.</param>
    public static bool After(ReadingCell[] cells, int last, out Move move) => Of(cells, last + 1, 1, out move);

    private static bool Of(ReadingCell[] cells, int from, int direction, out Move move)
    {
        move = default;
        Span<double> steps = stackalloc double[Values];
        Span<double> rows = stackalloc double[Values];
        int found = 0, sameFor = 0, up = 0;
        var values = new HashSet<double> { cells[Math.Clamp(from, 0, cells.Length - 1)].MiddleW };
        for (int i = from; found < Values && i >= 0 && i < cells.Length && Math.Abs(i - from) < MostCells; i += direction)
        {
            sameFor++;
            int next = i + direction;
            if (next < 0 || next >= cells.Length)
            {
                return false;
            }

            double step = (cells[i].MiddleW - cells[next].MiddleW) * -direction;
            if (step != 0 || !cells[i].IsFlat)
            {
                steps[found] = Math.Abs(step);
                rows[found++] = sameFor;
                up += Math.Sign(step);
                values.Add(cells[next].MiddleW);
                sameFor = 0;
            }
        }

        if (found < Values)
        {
            return false;
        }

        steps.Sort();
        rows.Sort();
        move = new Move(Math.Abs(up) >= Values - 1 ? Math.Sign(up) : 0, steps[Values / 2], rows[Values / 2]);

        // Two or three values in turn are a pulse, or the steps of a coarse meter.
        return steps[^1] < 4 * steps[Values / 2] && values.Count >= Values;
    }
}
