using ChargeAudit.Logs;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Blocks of rows that were exported twice. Their stamps go back, which looks like a clock that was set back; but the readings are those of earlier rows, in the same order and at the
/// same distances. Looked for only where a clock seems to have been set back, in a reading of its own. Mutable; one reading.
/// </summary>
internal sealed class RepeatedRows
{
    // As many as the reader takes for a clock that was set; with so many values that chance cannot repeat them.
    private const int LeastRows = 32;
    private const int LeastValues = 8;
    private const int MostRows = 1 << 21;
    private const int MostSteps = 32;
    private const double SameTimeS = 1e-3;

    private readonly List<(double TimeS, ulong Readings, long Line)> _rows = [];
    private readonly List<int> _steps = [];

    /// <summary>Takes the samples of a reading.</summary>
    public readonly record struct Sink(RepeatedRows Rows) : ISampleSink
    {
        /// <inheritdoc/>
        public void Add(in Sample sample) => Rows.Add(in sample);
    }

    /// <summary>First and last line of each block that repeats earlier rows.</summary>
    public IReadOnlyList<(long From, long To)> Blocks()
    {
        var blocks = new List<(long From, long To)>();
        for (int i = 0; i < _steps.Count; i++)
        {
            int end = i + 1 < _steps.Count ? _steps[i + 1] : _rows.Count;
            int length = Longest(_steps[i], end);
            if (length >= LeastRows)
            {
                blocks.Add((_rows[_steps[i]].Line, _rows[_steps[i] + length - 1].Line));
            }
        }

        return blocks;
    }

    private void Add(in Sample sample)
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
        foreach (double value in (ReadOnlySpan<double>)[sample.VoltageV, sample.CurrentA, sample.PowerW, sample.ApparentPowerVA, sample.EnergyCounterJ, sample.ChargeCounterC])
        {
            readings = unchecked((readings ^ BitConverter.DoubleToUInt64Bits(value)) * 1099511628211);
        }

        _rows.Add((sample.TimeS, readings, sample.Line));
    }

    // How many rows from a place on repeat rows before it, at the best of all earlier places.
    private int Longest(int start, int end)
    {
        int best = 0;
        for (int before = 0; before < start && best < end - start; before++)
        {
            int length = 0;
            while (start + length < end && before + length < start && _rows[before + length].Readings == _rows[start + length].Readings
                && Math.Abs(_rows[start + length].TimeS - _rows[start].TimeS - (_rows[before + length].TimeS - _rows[before].TimeS)) < SameTimeS)
            {
                length++;
            }

            best = length > best && Values(start, length) >= LeastValues ? length : best;
        }

        return best;
    }

    private int Values(int start, int length) => length < LeastRows ? 0 : _rows.GetRange(start, length).Select(r => r.Readings).Distinct().Take(LeastValues).Count();
}
