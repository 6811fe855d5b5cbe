using System.Runtime.CompilerServices;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// What is kept of a log, in bounded memory: sums, extremes, gaps, counters and the power envelope. Summaries of two neighbouring pieces of
/// a log join to the summary of the whole. Besides ∫P dt it keeps ∫V dt and ∫I dt because they are the sensitivities of the energy to the
/// meter's offsets. Immutable: a <see cref="Builder"/> makes it.
/// </summary>
public sealed partial class LogSummary
{
    private readonly SummaryRules _rules;
    private readonly bool _takesBlocks;
    private PowerEnvelope _envelope;
    private RunSums _run;
    private bool _running;
    private CompensatedSum _energyJ;
    private CompensatedSum _voltSeconds;
    private CompensatedSum _chargeC;
    private CompensatedSum _coveredS;
    private PowerPoint _first;
    private PowerPoint _last;
    private FaultTally _gapFaults;
    private FaultTally _reversed;
    private FaultTally _implausible;
    private MeanTally _temperature;
    private long _dwelling;
    private BetweenRows? _betweenRows;
    private bool _finished;
    private double _fromS;

    /// <summary>An empty summary.</summary>
    /// <param name="rules">Rules for the whole log.</param>
    private LogSummary(SummaryRules rules)
    {
        _rules = rules;
        _fromS = rules.FromS;
        _marked = new FaultTally[rules.Marked.Count];
        _takesBlocks = rules.Marked.Count == 0 && rules.Source is PowerSource.PowerColumn or PowerSource.DirectCurrentProduct
            && rules.Samples == SampleKind.Instantaneous;

        _betweenRows = BetweenRows.For(rules);

        // How many rows a part of the log has is not known.
        long rowsAbout = double.IsInfinity(rules.FromS) && double.IsInfinity(rules.ToS) ? rules.RowsAbout ?? 0 : 0;
        _envelope = PowerEnvelope.ForInterval(rules.MedianIntervalS, rowsAbout, rules.Samples == SampleKind.OnChange);
    }

    /// <summary>Samples that were summed.</summary>
    public long Samples { get; private set; }

    /// <summary>Samples left out because they give no power.</summary>
    public long WithoutPower { get; private set; }

    /// <summary>Integral of power. [J]</summary>
    public CompensatedSum EnergyJ => _energyJ + _run.EnergyJ;

    /// <summary>Integral of voltage. [V·s]</summary>
    public CompensatedSum VoltSeconds => _voltSeconds + _run.VoltSeconds;

    /// <summary>Whether the log is of direct current: not measured at the wall, and its mean voltage is no mains voltage.</summary>
    internal bool IsDirect => !Rules.AtTheWall && VoltSeconds.Value <= PowerRule.GreatestDirectVoltageV * CoveredS.Value;

    /// <summary>Integral of current. [C]</summary>
    public CompensatedSum ChargeC => _chargeC + _run.ChargeC;

    /// <summary>Time that is covered, bridged gaps included. [s]</summary>
    public CompensatedSum CoveredS => _coveredS + _run.CoveredS;

    /// <summary>Energy that flowed the wrong way and is not in <see cref="EnergyJ"/>. [J]</summary>
    public CompensatedSum ReversedJ { get; private set; }

    /// <summary>Greatest reading; negative infinity before the first. [W]</summary>
    public double PeakPowerW { get; private set; } = double.NegativeInfinity;

    /// <summary>Mean of the temperature column; null where there is none. [°C]</summary>
    public double? MeanTemperatureC => _temperature.Mean;

    /// <summary>Gaps.</summary>
    public GapTally Gaps { get; private set; } = GapTally.Empty;

    /// <summary>Power over time; before the summary is finished, a picture of what has come so far.</summary>
    public PowerEnvelope Envelope => _running ? _envelope.With(in _run) : _envelope;

    /// <summary>What may have flowed unseen between rows; null where the kind of reading and the rows leave nothing of the sort.</summary>
    internal UnseenEnergy? Unseen => _betweenRows?.Unseen;

    /// <summary>Power over time as modes are found in it: a taper of a log written on change goes down in straight lines.</summary>
    internal PowerEnvelope Course => _betweenRows is { Holds: true } ? _betweenRows.Unseen.WithStraightTapers(Envelope) : Envelope;

    /// <summary>Start of what is covered: before the first sample where readings are averages of the interval that ends. [s]</summary>
    public double StartS => _first.TimeS - (_rules.Samples == SampleKind.AverageEnding && Samples > 0 ? _rules.MedianIntervalS : 0);

    /// <summary>End of what is covered. [s]</summary>
    public double EndS => _last.TimeS + (_rules.Samples == SampleKind.AverageStarting && Samples > 0 ? _rules.MedianIntervalS : 0);

    /// <summary>Line of the first sample.</summary>
    public long FirstLine => _first.Line;

    /// <summary>Share of readings that equal the one before, 0 to 1: high where the value dwells in the steps of the meter.</summary>
    public double DwellingShare => Samples > 1 ? (double)_dwelling / (Samples - 1) : 0;

    /// <summary>The rules in force.</summary>
    internal SummaryRules Rules => _rules;

    internal FaultTally GapFaults => _gapFaults;

    internal FaultTally Reversed => _reversed;

    internal FaultTally Implausible => _implausible;

    /// <summary>Leaves the cells of a finished summary to a shelf.</summary>
    internal void Rest(CellShelf shelf)
    {
        _envelope.Rest(shelf);
        Unseen?.Rest(shelf);
    }

    /// <summary>Adds a sample; times must not decrease.</summary>
    /// <exception cref="InvalidOperationException">The summary is finished.</exception>
    /// <remarks>
    /// Compiled at once and as a whole with what every row goes through: code compiled ahead of time calls across assemblies, which costs
    /// more here than the sums do.
    /// </remarks>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Add(in Sample sample)
    {
        // In a finished summary no sample is late enough to count, so a row needs no test of its own for that.
        if (sample.TimeS < _fromS || sample.TimeS > _rules.ToS)
        {
            RefuseIfFinished();
            return;
        }

        if (_rules.HasTemperature)
        {
            _temperature = _temperature.Plus(sample.TemperatureC);
        }

        bool counterOnly = _rules.Source == PowerSource.EnergyCounter;
        double power = PowerRule.PowerW(_rules.Source, sample);
        if (counterOnly ? double.IsNaN(sample.EnergyCounterJ) : double.IsNaN(power))
        {
            WithoutPower++;
            return;
        }

        if (_marked.Length > 0 && LeavesOut(in sample, power))
        {
            return;
        }

        if (Math.Abs(power) > _rules.ImplausibleAboveW)
        {
            _implausible = _implausible.Plus(sample.Line);
            return;
        }

        Take(new PowerPoint(
            sample.TimeS,
            power,
            double.IsNaN(sample.VoltageV) ? 0 : sample.VoltageV,
            double.IsNaN(sample.CurrentA) ? 0 : sample.CurrentA,
            sample.EnergyCounterJ,
            sample.Line,
            sample.AfterClockStep | sample.AfterAway));
    }

    // Adds the intervals at the edges that averages stand for.
    private void Finish()
    {
        if (_finished || Samples == 0)
        {
            return;
        }

        _finished = true;
        _fromS = double.PositiveInfinity;
        SumPending(double.NaN);
        FinishEdge();
        EndRun();
        FinishCounters();
        EndRun();
    }

    private void FinishEdge()
    {
        if (_rules.Samples == SampleKind.AverageEnding && _rules.Source != PowerSource.EnergyCounter)
        {
            Sum(Flat(StartS, _first.TimeS, _first));
        }
        else if (_rules.Samples == SampleKind.AverageStarting && _rules.Source != PowerSource.EnergyCounter)
        {
            Sum(Flat(_last.TimeS, EndS, _last));
        }
    }

    private void RefuseIfFinished()
    {
        if (_finished)
        {
            throw new InvalidOperationException("the summary is finished and takes no more of the log");
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Take(in PowerPoint point)
    {
        if (Samples == 0)
        {
            _first = point;
        }
        else
        {
            Join(_last, point);
            CountEqual(in _last, in point);
        }

        if (!double.IsNaN(point.CounterJ))
        {
            TakeCounter(point);
        }

        Samples++;
        _last = point;
        if (!double.IsNaN(point.PowerW))
        {
            PeakPowerW = point.PowerW > PeakPowerW ? point.PowerW : PeakPowerW;

            if (point.PowerW < _rules.ReversedBelowW && _rules.IsReversed(point.PowerW, point.VoltageV))
            {
                _reversed = _reversed.Plus(point.Line);
            }

            double timeS = ReadingTimeS(point);
            if (!_envelope.IsInUse(timeS))
            {
                EndRun();
            }

            _envelope.AddReading(timeS, point.PowerW);
        }
    }

    // A mean belongs to the middle of its interval, not to its stamp.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private double ReadingTimeS(in PowerPoint point) => _rules.Samples switch
    {
        SampleKind.AverageEnding => point.TimeS - (0.5 * _rules.MedianIntervalS),
        SampleKind.AverageStarting => point.TimeS + (0.5 * _rules.MedianIntervalS),
        _ => point.TimeS,
    };

    private void CountEqual(in PowerPoint previous, in PowerPoint point) => _dwelling += previous.PowerW == point.PowerW ? 1 : 0;
}
