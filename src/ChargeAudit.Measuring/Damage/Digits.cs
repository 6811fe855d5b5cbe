using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Whether the digits or the scatter of readings change as a unit does. Numbers that are printed to the same place and multiplied by ten
/// end in zeros, all of them; divided by ten they have a digit more. And what scatters by as much of its value before and after is scaled;
/// a load that falls keeps the scatter of its meter.
/// </summary>
internal sealed class Digits
{
    private const int Cells = 30;
    private const int LeastValues = 6;
    private const int FarthestCells = 4096;
    private const int LeastOfScatter = 6;
    private const int MostPlaces = 11;

    // Near a place, and how many readings have to stay the same where the point moves.
    private const int Near = 20;
    private const int Steady = 3;
    private const double LeastMovedW = 1;
    private const int LeastMoved = 2;
    private const int LeastBetween = 3;
    private const int LeastGrown = 4;
    private const int LeastOfSize = 2;
    private const int FewDigits = 2;
    private const int LeastPlaces = -3;
    private const double ScatterCloseness = 2.5;

    private static readonly double[] Tens =
        [.. Enumerable.Range(LeastPlaces, MostPlaces - LeastPlaces + 1).Select(p => Math.Pow(10, p))];

    private readonly ReadingCell[] _cells;
    private readonly int[] _placesTo;
    private readonly int[] _placesFrom;
    private readonly int[] _valuesTo;
    private readonly int[] _valuesFrom;

    /// <summary>Looks at the digits of a log; a product of voltage and current has those of both.</summary>
    public Digits(ReadingCell[] cells, SummaryRules rules)
    {
        _cells = cells;
        int n = rules.Source is PowerSource.PowerColumn or PowerSource.DirectCurrentProduct ? cells.Length : 0;
        (_placesTo, _valuesTo) = Along(n, backwards: false);
        (_placesFrom, _valuesFrom) = Along(n, backwards: true);
    }

    /// <summary>Whether all readings after a place have as many digits fewer, or some as many more, than those before.</summary>
    /// <param name="end">Just past the last one before.</param>
    /// <param name="first">The first after.</param>
    /// <param name="power">The power of ten.</param>
    public bool ChangeBy(int end, int first, int power)
    {
        int last = _cells.Length - 1 - first;
        if (_placesTo.Length == 0)
        {
            return false;
        }

        // One number shows that digits are there; that none of several has them is not chance.
        int coarser = power > 0 ? _valuesFrom[last] : _valuesTo[end - 1];
        if (coarser * Math.Abs(power) < LeastValues)
        {
            return false;
        }

        int places = _placesFrom[last] - _placesTo[end - 1];
        return power > 0
            ? places <= -power && ShareFiner(StartOfValues(end), end, _placesFrom[last]) > 0.5
            : places >= -power && ShareFiner(first, EndOfValues(first), _placesTo[end - 1]) >= 0.5;
    }

    /// <summary>Whether the readings near a place have as many digits fewer, or some as many more, than those near before it.</summary>
    /// <param name="end">Just past the last one before.</param>
    /// <param name="first">The first after.</param>
    /// <param name="power">The power of ten.</param>
    /// <param name="isExact">Whether the readings beside differ by the power of ten to a few parts in a thousand: two numbers tell then.
    /// </param>
    public bool ChangeNear(int end, int first, int power, bool isExact)
    {
        if (_placesTo.Length == 0)
        {
            return false;
        }

        int from = Math.Max(0, end - Near), to = Math.Min(_cells.Length, first + Near);

        // A digit that none ever had before is new; one that all lack may have been printed long ago.
        int before = power > 0 && !isExact ? MostOf(from, end) : _placesTo[end - 1], after = MostOf(first, to);
        int coarser = power > 0 ? Values(first, to) : _valuesTo[end - 1];

        // One round number beside another is a load: 0.1 W of a waiting charger and 10 W of a charge.
        bool areSeveral = coarser >= LeastMoved && Values(from, end) >= LeastMoved && Values(first, to) >= LeastMoved;
        return areSeveral && coarser * Math.Abs(power) >= (isExact ? LeastMoved : LeastValues) && (power > 0
            ? after <= before - power && (isExact || ShareFiner(from, end, after) > 0.5)
            : after >= before - power && ShareFiner(first, to, before) >= 0.5);
    }

    /// <summary>Whether all readings of a stretch have as many digits fewer than those near it on either side, or some as many more.
    /// </summary>
    /// <param name="end">Just past the last one before.</param>
    /// <param name="first">The first of the stretch.</param>
    /// <param name="last">Just past its last.</param>
    /// <param name="next">The first after.</param>
    /// <param name="power">The power of ten.</param>
    /// <param name="least">How many readings have to tell, times the power.</param>
    public bool DifferBetween(int end, int first, int last, int next, int power, int least = LeastBetween)
    {
        if (_placesTo.Length == 0)
        {
            return false;
        }

        int before = StartOfValues(end), after = EndOfValues(next);
        int beside = Math.Min(MostOf(before, end), MostOf(next, after)), between = MostOf(first, last);
        if (power > 0)
        {
            return between <= beside - power && Values(first, last) * power >= least
                && Math.Min(ShareFiner(before, end, between), ShareFiner(next, after, between)) > 0.5;
        }

        // A meter that changes its range prints a tenth to a digit more as well.
        int most = Math.Max(MostOf(before, end), MostOf(next, after));
        return power < -1 && between >= most - power && (Values(before, end) + Values(next, after)) * -power >= least
            && ShareFiner(first, last, most) > 0.5;
    }

    /// <summary>
    /// Whether at a place the decimal point moves within a number whose digits stay the same, even if readings are constant on either side:
    /// downwards to digits that none had before, or upwards to a number of two digits or more among numbers that have as many digits fewer.
    /// </summary>
    /// <param name="end">Just past the last one before.</param>
    /// <param name="first">The first after.</param>
    /// <param name="power">The power of ten.</param>
    public bool PointMoves(int end, int first, int power)
    {
        if (_placesTo.Length == 0 || end < Steady || first + Steady > _cells.Length || !Stays(end - Steady) || !Stays(first))
        {
            return false;
        }

        double before = _cells[end - 1].MaxW, after = _cells[first].MaxW;
        if (Math.Abs(after - (before * Math.Pow(10, power))) > 1e-9 * after)
        {
            return false;
        }

        bool twoDigits = before * Math.Pow(10, Places(before, LeastPlaces)) > 10.5;
        return power < 0
            ? (twoDigits || ValuesFiner(first, _placesTo[end - 1]) >= LeastGrown)
                && ValuesFiner(first, _placesTo[end - 1]) > 0 && _valuesTo[end - 1] >= LeastMoved
            : before > LeastMovedW && ((twoDigits && MostOf(first, Math.Min(_cells.Length, first + Near)) <= _placesTo[end - 1] - power)
                || StepGrows(end, first, power));
    }

    /// <summary>Whether the digits that change do not follow the readings' size, as those of a meter that prints three of them or more
    /// whatever the size: readings of one size have as many fewer after a place than before it, or more; or those of several sizes end at
    /// the same place on the side that has fewer; or none has more than two.</summary>
    /// <param name="end">Just past the last one before.</param>
    /// <param name="first">The first after.</param>
    /// <param name="power">The power of ten.</param>
    public bool FollowNoSize(int end, int first, int power) => FollowNoSize(_cells.Take(end), _cells.Skip(first), power);

    /// <summary>The same of a stretch among others.</summary>
    /// <param name="end">Just past the last one before.</param>
    /// <param name="first">The first of the stretch.</param>
    /// <param name="last">Just past its last.</param>
    /// <param name="next">The first after.</param>
    /// <param name="power">The power of ten.</param>
    public bool FollowNoSizeBetween(int end, int first, int last, int next, int power) =>
        FollowNoSize(_cells.Take(end).Concat(_cells.Skip(next)), _cells.Take(last).Skip(first), power);

    private static bool FollowNoSize(IEnumerable<ReadingCell> cellsBefore, IEnumerable<ReadingCell> cellsAfter, int power)
    {
        var before = PlacesBySize(cellsBefore);
        var after = PlacesBySize(cellsAfter);
        if (before.Concat(after).All(s => s.Value + 1 + s.Key <= FewDigits))
        {
            return true;
        }

        var both = before.Keys.Where(after.ContainsKey).ToList();
        var fewer = power > 0 ? after : before;
        return both.All(size => before[size] != after[size])
            && (both.Any(size => before[size] - after[size] == power) || fewer.Values.Distinct().Count() < fewer.Count);
    }

    // Most decimal places among readings of a size, by their power of ten; only where several tell.
    private static Dictionary<int, int> PlacesBySize(IEnumerable<ReadingCell> cells) =>
        cells.Select(c => Math.Abs(c.MaxW)).Where(v => v > 0).Distinct()
            .GroupBy(v => (int)Math.Floor(Math.Log10(v) + 1e-9)).Where(g => g.Count() >= LeastOfSize)
            .ToDictionary(g => g.Key, g => g.Max(v => Places(v, LeastPlaces)));

    // How many different readings from a place on have more digits.
    private int ValuesFiner(int first, int places) =>
        _cells.Skip(first).Select(c => c.MaxW).Distinct().Count(v => Places(v, LeastPlaces) > places);

    // Whether all later readings are whole multiples of the step of the earlier ones times the power of ten.
    private bool StepGrows(int end, int first, int power)
    {
        double step = double.PositiveInfinity;
        double[] before = [.. _cells.Take(end).Select(c => c.MaxW).Distinct().Order()];
        for (int i = 1; i < before.Length; i++)
        {
            step = Math.Min(step, before[i] - before[i - 1]);
        }

        double grown = step * Math.Pow(10, power);
        double[] after = [.. _cells.Skip(first).Select(c => c.MaxW).Where(v => v != 0).Distinct()];
        return before.Length > LeastMoved && after.Length >= LeastGrown
            && after.All(v => Math.Abs((v / grown) - Math.Round(v / grown)) < 1e-6);
    }

    private bool Stays(int from)
    {
        for (int i = from; i < from + Steady; i++)
        {
            if (_cells[i].MinW != _cells[from].MinW || !_cells[i].IsFlat)
            {
                return false;
            }
        }

        return true;
    }

    private int MostOf(int from, int to)
    {
        int most = LeastPlaces;
        for (int i = from; i < to; i++)
        {
            most = Math.Max(Places(_cells[i].MinW, most), Places(_cells[i].MaxW, most));
        }

        return most;
    }

    // A reading may stay for long: the cells from one on, or up to it, that it takes to see some different ones.
    private int CellsOfValues(int from, int direction)
    {
        var values = new HashSet<double>();
        int count = 0;
        for (int i = from; i >= 0 && i < _cells.Length && (count < Cells || (count < FarthestCells && values.Count < LeastValues));
            i += direction)
        {
            values.Add(_cells[i].MaxW);
            count++;
        }

        return count;
    }

    private int StartOfValues(int end) => end - CellsOfValues(end - 1, -1);

    private int EndOfValues(int first) => first + CellsOfValues(first, 1);

    // Of different readings: nine numbers in ten have a last digit that is not zero, and of the steps of a coarse meter half; but one of
    // them may fill most rows.
    private double ShareFiner(int from, int to, int places)
    {
        double[] values = [.. Enumerable.Range(from, to - from).Select(i => _cells[i].MaxW).Distinct()];
        return values.Count(v => Places(v, LeastPlaces) > places) / (double)values.Length;
    }

    /// <summary>Whether the scatter of the readings near a place changes by a power of ten.</summary>
    public bool ScatterChangesBy(int end, int first, int power)
    {
        int before = Math.Max(0, end - Cells), after = Math.Min(_cells.Length, first + Cells);
        if (Values(before, end) < LeastOfScatter || Values(first, after) < LeastOfScatter)
        {
            return false;
        }

        // What scatters as a share of its value does so by less in a lower load; by less than the meter's step it never does.
        double scatter = Scatter.UsualStepW(_cells, first, after);
        double ratio = scatter / Scatter.UsualStepW(_cells, before, end);
        return ratio > 0 && Math.Abs(Math.Log(ratio) - (power * Math.Log(10))) < Math.Log(ScatterCloseness)
            && (power > 0 || scatter < 0.5 * LeastChange(before, end));
    }

    private double LeastChange(int from, int to)
    {
        double least = double.PositiveInfinity;
        for (int i = from + 1; i < to; i++)
        {
            double change = Math.Abs(_cells[i].MiddleW - _cells[i - 1].MiddleW);
            least = change > 1e-9 ? Math.Min(least, change) : least;
        }

        return least;
    }

    // Decimal places that hold all readings so far, and how many different ones there are, up to as many as matter.
    private (int[] Places, int[] Values) Along(int count, bool backwards)
    {
        var places = new int[count];
        var counts = new int[count];
        var values = new HashSet<double>();
        int most = LeastPlaces;
        for (int at = 0; at < count; at++)
        {
            ref readonly var cell = ref _cells[backwards ? count - 1 - at : at];

            // Nothing has more places than are looked at.
            if (most < MostPlaces)
            {
                most = cell.IsFlat ? Places(cell.MaxW, most) : Math.Max(Places(cell.MinW, most), Places(cell.MaxW, most));
            }

            if (values.Count < LeastValues)
            {
                values.Add(cell.MaxW);
            }

            places[at] = most;
            counts[at] = values.Count;
        }

        return (places, counts);
    }

    private static int Places(double value, int from)
    {
        int places = from;
        double scaled = value * Tens[places - LeastPlaces];
        while (places < MostPlaces && (Math.Abs(scaled - Math.Round(scaled)) > 1e-6 * Math.Max(1, Math.Abs(scaled) * 1e-6)
            || (value != 0 && Math.Round(scaled) == 0)))
        {
            scaled = value * Tens[++places - LeastPlaces];
        }

        return places;
    }

    private int Values(int from, int to) => _cells.AsSpan(from, to - from).ToArray().Select(c => c.MaxW).Distinct().Count();
}
