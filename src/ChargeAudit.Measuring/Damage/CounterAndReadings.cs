namespace ChargeAudit.Measuring.Damage;

/// <summary>What a counter and the readings beside it say of the energy between any two times. Added up once: a load that is switched by a
/// power of ten is asked about at each of its steps. Immutable.</summary>
internal sealed class CounterAndReadings
{
    private readonly CounterBeside _counter;
    private readonly double[] _startS;
    private readonly double[] _readJ;

    /// <summary>Takes both.</summary>
    /// <param name="counter">The counter.</param>
    /// <param name="cells">The readings.</param>
    public CounterAndReadings(CounterBeside counter, ReadingCell[] cells)
    {
        _counter = counter;
        _startS = Array.ConvertAll(cells, c => c.FromS);
        _readJ = new double[cells.Length + 1];
        for (int i = 0; i < cells.Length; i++)
        {
            _readJ[i + 1] = _readJ[i] + (cells[i].MeanW > 0 ? cells[i].MeanW * (cells[i].ToS - cells[i].FromS) : 0);
        }
    }

    /// <summary>Step of the counter. [J]</summary>
    public double StepJ => _counter.StepJ;

    /// <summary>Advance of the counter. [J]</summary>
    public double AdvanceJ(double fromS, double toS) => _counter.AdvanceJ(fromS, toS);

    /// <summary>Energy by the readings of the cells that begin between two times; what flows back does not count. [J]</summary>
    public double ReadJ(double fromS, double toS) => _readJ[CellsBefore(toS)] - _readJ[CellsBefore(fromS)];

    private int CellsBefore(double timeS)
    {
        int at = Array.BinarySearch(_startS, timeS);
        return at < 0 ? ~at : at;
    }
}
