using System.Runtime.CompilerServices;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Integration;

// The energy counter: what it shows can be told only when the whole log is in.
public sealed partial class LogSummary
{
    private CounterTrail? _energyTrail;
    private CounterFold? _energyCounter;
    private List<(double TimeS, double EnergyJ)> _counted = [];
    private List<HiddenAtFall> _hiddenAtFalls = [];

    /// <summary>How far the energy counter advanced; null where there is none that can be used, and before the summary is finished.
    /// [J]</summary>
    public double? CounterEnergyJ => _counted.Count > 0 ? _counted[^1].EnergyJ : null;

    /// <summary>Step of the energy counter: the greatest that fits all its advances, or where it never moved the one that was stated; NaN
    /// where neither tells. [J]</summary>
    public double CounterStepJ { get; private set; } = double.NaN;

    /// <summary>Whether the energy counter stands at zero where the log begins: its first step is then a whole one.</summary>
    public bool CounterStartsAtZero => _energyCounter is { Seen: true } && _energyCounter.First.ReadingJ == 0
        && double.IsNaN(CounterCoarsensAtS);

    /// <summary>When the energy counter first shows fewer decimals than before, and has its coarser step; NaN where all its readings have
    /// the same step. [s]</summary>
    internal double CounterCoarsensAtS { get; private set; } = double.NaN;

    /// <summary>Whether the energy counter falls so often that it cannot be used.</summary>
    internal bool CounterIsUseless => _energyTrail is { IsUseless: true };

    internal FaultTally CounterResets => _energyCounter?.Resets ?? default;

    internal FaultTally CounterFalls => _energyCounter?.Falls ?? default;

    internal FaultTally CounterLeaps => _energyCounter?.Leaps ?? default;

    /// <summary>What may have flowed unseen where the energy counter fell.</summary>
    internal IReadOnlyList<HiddenAtFall> HiddenAtFalls => _hiddenAtFalls;

    /// <summary>Line at which the energy counter's unit changes; null where it does not.</summary>
    internal long? CounterUnitChangesAt { get; private set; }

    internal FaultTally BadCounterReadings => _energyCounter?.Bad ?? default;

    /// <summary>The energy counter's good readings with its advances added up from zero. [s, J]</summary>
    internal IReadOnlyList<(double TimeS, double EnergyJ)> Counted => _counted;

    /// <summary>Whether the counter was read at both ends of a stretch, give or take two rows. Infinite ends are those of the log.</summary>
    internal bool IsCounted(double fromS, double toS)
    {
        double edgeS = 2 * _rules.MedianIntervalS;
        return _counted.Count > 0 && _counted[0].TimeS <= Math.Max(fromS, StartS) + edgeS
            && _counted[^1].TimeS >= Math.Min(toS, EndS) - edgeS;
    }

    private void JoinCounters(LogSummary b)
    {
        bool afterGap = Samples > 0 && b.Samples > 0 && !double.IsNaN(b._first.CounterJ) && IsGap(in _last, in b._first);
        _energyTrail = Joined(_energyTrail, b._energyTrail, afterGap);
    }

    private static CounterTrail? Joined(CounterTrail? a, CounterTrail? b, bool afterGap)
    {
        if (a is null)
        {
            return b?.Clone();
        }

        if (b is not null)
        {
            a.Join(b, afterGap);
        }

        return a;
    }

    private bool IsGap(in PowerPoint from, in PowerPoint to) => to.AfterClockStep || to.TimeS - from.TimeS > _rules.GapThresholdS;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void TakeCounter(in PowerPoint point)
    {
        // Whether a gap lies before the first row of a later piece shows when the pieces are joined.
        bool afterGap = Samples > 0 && IsGap(in _last, in point);
        (_energyTrail ??= new CounterTrail(_rules.ImplausibleAboveW))
            .Add(new CounterReading(point.TimeS, point.CounterJ, point.Line, afterGap));
    }

    private void FinishCounters()
    {
        if (JudgeCounter() is not { } energy)
        {
            return;
        }

        if (_rules.Source == PowerSource.EnergyCounter)
        {
            SumCounted();
        }
        else if (_rules.Gaps == GapPolicy.Bridge)
        {
            ChooseInGaps(energy);
        }
    }

    // What the counter's readings show, which adds nothing to any sum; null where they are of no use.
    private CounterFold? JudgeCounter()
    {
        _energyCounter = _energyTrail?.Finish();
        if (_energyCounter is not { Seen: true } energy)
        {
            return null;
        }

        double found = CounterStep.Of(energy.Points, _rules.CounterUnitJ);
        CounterStepJ = double.IsFinite(found) ? found : _rules.CounterStepJ;
        energy = energy.WithoutWildEnds(CounterStepJ);
        CounterUnitChangesAt = CounterAtFalls.ChangedUnit(energy.Points, CounterStepJ, _rules.ImplausibleAboveW);
        if (CounterUnitChangesAt is null)
        {
            // Readings beside a counter tell a leap in the midst of the log.
            energy = _rules.Source == PowerSource.EnergyCounter ? energy.WithoutLeaps(CounterStepJ) : energy;
            if (CounterDigits.Of(energy.Points, _rules.CounterUnitJ, CounterStepJ) is { } coarser)
            {
                CounterStepJ = coarser.StepJ;
                CounterCoarsensAtS = energy.Points.First(p => p.ReadingJ >= coarser.FromJ).TimeS;
                energy = energy.Coarser(coarser);
            }
        }

        _energyCounter = energy;
        if (CounterUnitChangesAt is not null && _rules.Source != PowerSource.EnergyCounter)
        {
            return null;
        }

        (_counted, _hiddenAtFalls) = AddedUp(energy, _rules.CounterUnitJ, CounterStepJ);
        return energy;
    }

    private static (List<(double TimeS, double EnergyJ)> Counted, List<HiddenAtFall> Hidden) AddedUp(CounterFold fold, double unitJ,
        double stepJ)
    {
        // Where readings were thinned out the first of all may be gone.
        var counted = new List<(double, double)>(fold.Points.Count + 1) { (fold.First.TimeS, 0) };
        var hidden = new List<HiddenAtFall>();
        double base0 = -fold.First.ReadingJ;
        for (int i = 0; i < fold.Points.Count; i++)
        {
            var point = fold.Points[i];
            if (point.Step != CounterVerdict.Good && i > 0)
            {
                // Within a stretch without a fall the reading itself is kept, so that nothing is lost in adding up.
                var (advanceJ, hiddenJ) = CounterAtFalls.Advance(fold.Points, i, unitJ, stepJ);
                base0 += fold.Points[i - 1].ReadingJ + advanceJ - point.ReadingJ;
                hidden.Add(new HiddenAtFall(fold.Points[i - 1].TimeS, point.TimeS, hiddenJ,
                    point is { Step: CounterVerdict.Fell, AfterGap: true } && point.ReadingJ < fold.Points[i - 1].ReadingJ));
            }

            if (point.TimeS > fold.First.TimeS || counted.Count > 1)
            {
                counted.Add((point.TimeS, base0 + point.ReadingJ));
            }
        }

        return (counted, hidden);
    }

    private void SumCounted()
    {
        if (_counted.Count < 2)
        {
            return;
        }

        // A quarter of a step: whether the first step was cut down or rounded is not known.
        double firstJ = CounterStartsAtZero && double.IsFinite(CounterStepJ) && _counted[^1].EnergyJ > 0 ? -0.25 * CounterStepJ : 0;
        var gaps = Gaps.Longest;
        int next = 0;
        var stretches = CounterCurve.Of(_counted, CounterStepJ, firstJ);
        for (int i = 0; i < stretches.Count; i++)
        {
            var stretch = stretches[i];
            double mean = stretch.MeanW;
            if (next >= gaps.Count || gaps[next].FromS >= stretch.ToS)
            {
                SumSloping(stretch, Between(stretch, i > 0 ? stretches[i - 1] : stretch),
                    Between(stretch, i + 1 < stretches.Count ? stretches[i + 1] : stretch));
                continue;
            }

            double fromS = stretch.FromS;
            for (; next < gaps.Count && gaps[next].FromS < stretch.ToS; next++)
            {
                double inS = Math.Max(fromS, gaps[next].FromS), outS = Math.Min(stretch.ToS, gaps[next].ToS);
                SumFlat(fromS, inS, mean, false);
                SumFlat(inS, outS, mean, true);
                fromS = Math.Max(fromS, outS);
                if (gaps[next].ToS > stretch.ToS)
                {
                    break;
                }
            }

            SumFlat(fromS, stretch.ToS, mean, false);
        }

        Gaps = Gaps.With(
            [.. gaps.Select(g =>
            g with { FromCounter = true, EnergyJ = _rules.Gaps == GapPolicy.Bridge ? _envelope.EnergyBetweenJ(g.FromS, g.ToS) : 0 })]);
    }

    // Power that runs on from stretch to stretch, as in a taper, goes in straight lines; where it jumps it is another load.
    private static double Between(in CounterStretch stretch, in CounterStretch beside)
    {
        const double Alike = 1.5;
        double most = Math.Max(stretch.MeanW, beside.MeanW), least = Math.Min(stretch.MeanW, beside.MeanW);
        return most < Alike * least ? 0.5 * (most + least) : stretch.MeanW;
    }

    private void SumSloping(in CounterStretch stretch, double fromW, double toW)
    {
        double middleS = 0.5 * (stretch.FromS + stretch.ToS);
        double middleW = (2 * stretch.MeanW) - (0.5 * (fromW + toW));
        Sum(new PowerInterval(stretch.FromS, middleS, fromW, middleW));
        Sum(new PowerInterval(middleS, stretch.ToS, middleW, toW));
    }

    private void SumFlat(double fromS, double toS, double meanW, bool gap)
    {
        if (toS > fromS && !(gap && _rules.Gaps != GapPolicy.Bridge))
        {
            Sum(new PowerInterval(fromS, toS, meanW, meanW, Bridged: gap));
        }
    }

    private void ChooseInGaps(CounterFold energy)
    {
        EndRun();
        double sustainedW = SustainedPower.OfW(_envelope);
        var advances = energy.Gaps.ToDictionary(g => (g.FromS, g.ToS, g.Line), g => g.AdvanceJ);
        var chosen = Gaps.Longest
            .Select(g => advances.TryGetValue((g.FromS, g.ToS, g.Line), out double counted)
                ? GapChoice.Of(g, counted, CounterStepJ, sustainedW)
                : g).ToList();
        Gaps = Gaps.With(chosen);
        foreach (var gap in chosen.Where(g => g.FromCounter))
        {
            double meanW = gap.CounterJ / gap.LengthS;
            double meanA = gap.BridgeJ > 0 ? gap.MeanA * ((gap.CounterJ / gap.BridgeJ) - 1) : 0;
            var change = new PowerInterval(gap.FromS, gap.ToS, meanW - gap.FromW, meanW - gap.ToW, 0, meanA, true);
            _energyJ += change.EnergyJ;
            _chargeC += meanA * gap.LengthS;
            _envelope.Correct(in change);
        }
    }
}
