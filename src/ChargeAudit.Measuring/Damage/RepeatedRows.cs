using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Blocks of rows that were exported twice. Their stamps go back, or those of the rows after them do, which looks like a clock that was
/// set back; but the readings are those of earlier rows, in the same order and at the same distances. Where the readings have too few
/// values to tell, the interval reaches from the block counted to the block not counted. Mutable; one
/// reading.
/// </summary>
internal sealed class RepeatedRows(SummaryRules rules)
{
    // As many as the reader takes for a clock that was set; with so many values that chance cannot repeat them.
    private const int LeastRows = 32;
    private const int LeastValues = 8;
    private const int MostRows = 1 << 21;
    private const int MostSteps = 32;
    private const double SameTimeS = 1e-3;

    // Readings that hardly change match at many places; this many rows are compared, then the best so far is taken.
    private const int MostCompared = 1 << 24;

    private readonly List<Row> _rows = [];
    private readonly List<int> _steps = [];
    private Dictionary<ulong, List<int>>? _places;

    /// <summary>Takes the next row.</summary>
    public void Add(in Sample sample)
    {
        if (_rows.Count == MostRows)
        {
            return;
        }

        if (sample.AfterClockStep && _steps.Count < MostSteps)
        {
            _steps.Add(_rows.Count);
        }

        ulong readings = 14695981039346656037;
        foreach (double value in (ReadOnlySpan<double>)[sample.VoltageV, sample.CurrentA, sample.PowerW, sample.ApparentPowerVA,
            sample.EnergyCounterJ, sample.ChargeCounterC])
        {
            readings = unchecked((readings ^ BitConverter.DoubleToUInt64Bits(value)) * 1099511628211);
        }

        _rows.Add(new Row(sample.TimeS, readings, PowerRule.PowerW(rules.Source, in sample), sample.Line));
    }

    /// <summary>First and last line of each block that repeats earlier rows.</summary>
    public IReadOnlyList<(long From, long To)> Blocks() =>
        [.. Found().Where(b => b.IsSure).Select(b => (_rows[b.From].Line, _rows[b.From + b.Length - 1].Line))];

    /// <summary>Blocks that may repeat earlier rows and may not, as stretches that leave no row out.</summary>
    public IReadOnlyList<MarkedStretch> Doubtful() =>
        [.. Found().Where(b => !b.IsSure)
            .Select(b => new MarkedStretch(_rows[b.From].TimeS, _rows[b.From + b.Length - 1].TimeS, FaultKind.RepeatedRows,
            "rows that may repeat earlier ones")
        {
            Kept = true,
            AboveW = double.PositiveInfinity,
            HiddenJ = 1.1 * _rows.GetRange(b.From, b.Length).Sum(r => r.PowerW > 0 ? r.PowerW : 0) * rules.MedianIntervalS,
        })];

    private IEnumerable<Block> Found()
    {
        for (int i = 0; i < _steps.Count; i++)
        {
            // From the step on, or up to it: then the stamps of the copy went on, and those of the next rows go back.
            int end = i + 1 < _steps.Count ? _steps[i + 1] : _rows.Count;
            int start = i > 0 ? _steps[i - 1] : 0;
            var block = Longest(_steps[i], end, 1);
            var behind = Longest(_steps[i] - 1, start - 1, -1);
            block = (behind.IsSure && !block.IsSure) || (behind.IsSure == block.IsSure && behind.Length > block.Length) ? behind : block;
            if (block.Length >= LeastRows)
            {
                yield return block;
            }
        }
    }

    // How many rows from a place on, or up to it, repeat rows before the block, at the best of all earlier places.
    private Block Longest(int at, int limit, int direction)
    {
        Block best = default;
        int compared = 0;
        foreach (int before in Places(_rows[at].Readings))
        {
            if (before >= at || compared > MostCompared)
            {
                break;
            }

            // Rows that go back from the step overlap the block that they repeat where they are as many as lie between.
            int most = direction > 0 ? at - before : Math.Min(at - before, before + 1);
            int length = 0;
            while (length < most && at + (direction * length) != limit && Same(before, at, direction * length))
            {
                length++;
            }

            compared += length + 1;
            if (length > best.Length)
            {
                int from = direction > 0 ? at : at - length + 1;
                best = new Block(from, length, length >= LeastRows && Values(from, length) >= LeastValues);
            }
        }

        return best;
    }

    private List<int> Places(ulong readings)
    {
        if (_places is null)
        {
            _places = [];
            for (int i = 0; i < _rows.Count; i++)
            {
                if (!_places.TryGetValue(_rows[i].Readings, out var list))
                {
                    _places[_rows[i].Readings] = list = [];
                }

                list.Add(i);
            }
        }

        return _places[readings];
    }

    private bool Same(int before, int at, int by) => _rows[before + by].Readings == _rows[at + by].Readings
        && Math.Abs(_rows[at + by].TimeS - _rows[at].TimeS - (_rows[before + by].TimeS - _rows[before].TimeS)) < SameTimeS;

    private int Values(int start, int length) => _rows.GetRange(start, length).Select(r => r.Readings).Distinct().Take(LeastValues).Count();

    private readonly record struct Row(double TimeS, ulong Readings, double PowerW, long Line);

    private readonly record struct Block(int From, int Length, bool IsSure);
}
