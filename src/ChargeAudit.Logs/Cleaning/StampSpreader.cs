using System.Globalization;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Cleaning;

/// <summary>
/// Spreads the rows of one coarse stamp evenly over its step. The first stamp of a log is usually cut: its rows are put at the end of the
/// step.
/// </summary>
internal sealed class StampSpreader(TimePlan plan)
{
    // Bounds memory where a clock stands still.
    private const int MostRowsPerStamp = 65_536;

    private readonly double _stepS = plan.StampStepS;
    private readonly double _rowS = plan.StampStepS / plan.RowsPerStamp;
    private Sample[] _rows = new Sample[256];
    private int _count;
    private double _originS;
    private bool _first = true;
    private long _spread;
    private long _firstLine;
    private long _lastLine;

    /// <summary>Takes a sample in rising time; passes on those of the stamp before when a new stamp begins.</summary>
    public void Add<TSink>(in Sample sample, ref TSink sink, FaultCounts tally)
        where TSink : struct, ISampleSink
    {
        if (_count > 0 && (sample.TimeS > _rows[0].TimeS || sample.AfterClockStep))
        {
            Flush(sample.TimeS, ref sink);
        }

        if (_count == _rows.Length)
        {
            if (_count == MostRowsPerStamp)
            {
                throw LogErrors.StuckClock(tally.Path, sample.Line, MostRowsPerStamp);
            }

            Array.Resize(ref _rows, _count * 2);
        }

        if (_count > 0)
        {
            _spread++;
            _firstLine = _firstLine == 0 ? sample.Line : _firstLine;
            _lastLine = sample.Line;
        }

        _rows[_count++] = sample;
    }

    /// <summary>Passes on the last stamp's rows and counts what was spread.</summary>
    public void Finish<TSink>(ref TSink sink, FaultCounts tally)
        where TSink : struct, ISampleSink
    {
        if (_count > 0)
        {
            Flush(double.PositiveInfinity, ref sink);
        }

        if (_spread > 0)
        {
            string step = WrittenMarks.Number(_stepS.ToString("0.###", CultureInfo.InvariantCulture));
            tally.AddMany(FaultKind.TimeDuplicate, _firstLine, _lastLine, _spread,
                $"Several rows carry one time stamp, as stamps go by {step} s; they were spread evenly over that time.");
        }
    }

    private void Flush<TSink>(double nextS, ref TSink sink)
        where TSink : struct, ISampleSink
    {
        double stampS = _rows[0].TimeS;
        double spanS = Math.Min(_stepS, nextS - stampS);
        double eachS = spanS / _count;
        double startS = stampS;
        if (_first && _count * _rowS < spanS)
        {
            eachS = _rowS;
            _originS = spanS - (_count * _rowS);
            startS = stampS + _originS;
        }
        else if (double.IsPositiveInfinity(nextS))
        {
            eachS = Math.Min(eachS, _rowS);
        }

        _first = false;
        for (int i = 0; i < _count; i++)
        {
            _rows[i] = _rows[i] with { TimeS = startS + (i * eachS) - _originS };
            sink.Add(in _rows[i]);
        }

        _count = 0;
    }
}
