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
    private const int LeastOfScatter = 6;
    private const int MostPlaces = 9;
    private const int LeastPlaces = -3;
    private const double ScatterCloseness = 2.5;

    private readonly ReadingCell[] _cells;
    private readonly int[] _placesTo;
    private readonly int[] _placesFrom;
    private readonly int[] _valuesTo;
    private readonly int[] _valuesFrom;

    /// <summary>Looks at the digits of a log whose power is a column; of a product they say nothing.</summary>
    public Digits(ReadingCell[] cells, SummaryRules rules)
    {
        _cells = cells;
        int n = rules.Source == PowerSource.PowerColumn ? cells.Length : 0;
        (_placesTo, _valuesTo) = Along(Enumerable.Range(0, n));
        (_placesFrom, _valuesFrom) = Along(Enumerable.Range(0, n).Reverse());
    }

    /// <summary>Whether all readings behind a place have as many digits fewer, or some as many more, than those before.</summary>
    /// <param name="end">Behind the last before.</param>
    /// <param name="first">The first after.</param>
    /// <param name="power">The power of ten.</param>
    public bool ChangeBy(int end, int first, int power)
    {
        int last = _cells.Length - 1 - first;
        if (_placesTo.Length == 0)
        {
            return false;
        }

        // One number shows that digits are there; that none of several has them is no chance.
        int coarser = power > 0 ? _valuesFrom[last] : _valuesTo[end - 1];
        if (coarser * Math.Abs(power) < LeastValues)
        {
            return false;
        }

        int places = _placesFrom[last] - _placesTo[end - 1];
        return power > 0
            ? places <= -power && ShareFiner(Math.Max(0, end - Cells), end, _placesFrom[last]) > 0.5
            : places >= -power && ShareFiner(first, Math.Min(_cells.Length, first + Cells), _placesTo[end - 1]) > 0.5;
    }

    // Nine numbers in ten have a last digit that is not zero.
    private double ShareFiner(int from, int to, int places) =>
        Enumerable.Range(from, to - from).Count(i => Places(_cells[i].MaxW, LeastPlaces) > places) / (double)(to - from);

    /// <summary>Whether the scatter of the readings near a place changes by a power of ten.</summary>
    public bool ScatterChangesBy(int end, int first, int power)
    {
        int before = Math.Max(0, end - Cells), after = Math.Min(_cells.Length, first + Cells);
        if (Values(before, end) < LeastOfScatter || Values(first, after) < LeastOfScatter)
        {
            return false;
        }

        double ratio = Scatter.UsualStepW(_cells, first, after) / Scatter.UsualStepW(_cells, before, end);
        return ratio > 0 && Math.Abs(Math.Log(ratio) - (power * Math.Log(10))) < Math.Log(ScatterCloseness);
    }

    // Decimal places that hold all readings so far, and how many different ones there are, up to as many as matter.
    private (int[] Places, int[] Values) Along(IEnumerable<int> order)
    {
        var places = new List<int>();
        var counts = new List<int>();
        var values = new HashSet<double>();
        int most = LeastPlaces;
        foreach (int i in order)
        {
            most = Math.Max(Places(_cells[i].MinW, most), Places(_cells[i].MaxW, most));
            if (values.Count < LeastValues)
            {
                values.Add(_cells[i].MaxW);
            }

            places.Add(most);
            counts.Add(values.Count);
        }

        return ([.. places], [.. counts]);
    }

    private static int Places(double value, int from)
    {
        int places = from;
        double scaled = value * Math.Pow(10, places);
        while (places < MostPlaces && Math.Abs(scaled - Math.Round(scaled)) > 1e-6 * Math.Max(1, Math.Abs(scaled) * 1e-6))
        {
            scaled = value * Math.Pow(10, ++places);
        }

        return places;
    }

    private int Values(int from, int to) => _cells.AsSpan(from, to - from).ToArray().Select(c => c.MaxW).Distinct().Count();
}
