using System.Runtime.CompilerServices;
using ChargeAudit.Logs;

namespace ChargeAudit.Measuring.Integration;

// What lies between two rows: a straight line, a step or a gap, and where its integrals go.
public sealed partial class LogSummary
{
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Join(in PowerPoint from, in PowerPoint to)
    {
        double length = to.TimeS - from.TimeS;
        if (length > _rules.GapThresholdS || to.AfterClockStep)
        {
            Gap(from, to);
        }
        else if (length > 0)
        {
            Sum(Interval(from, to));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private PowerInterval Interval(in PowerPoint from, in PowerPoint to)
    {
        if (_rules.Source == PowerSource.EnergyCounter)
        {
            double mean = CounterStepJ(from, to) / (to.TimeS - from.TimeS);
            return new PowerInterval(from.TimeS, to.TimeS, mean, mean);
        }

        return _rules.Samples switch
        {
            SampleKind.AverageEnding => Flat(from.TimeS, to.TimeS, to),
            SampleKind.AverageStarting => Flat(from.TimeS, to.TimeS, from),
            _ => new PowerInterval(
                from.TimeS, to.TimeS, from.PowerW, to.PowerW, 0.5 * (from.VoltageV + to.VoltageV), 0.5 * (from.CurrentA + to.CurrentA)),
        };
    }

    private static PowerInterval Flat(double fromS, double toS, in PowerPoint point) =>
        new(fromS, toS, point.PowerW, point.PowerW, point.VoltageV, point.CurrentA);

    private static double CounterStepJ(in PowerPoint from, in PowerPoint to) =>
        to.CounterJ < from.CounterJ ? Math.Max(to.CounterJ, 0) : to.CounterJ - from.CounterJ;

    [MethodImpl(MethodImplOptions.NoInlining)]
    private void Gap(in PowerPoint from, in PowerPoint to)
    {
        _gapFaults = _gapFaults.Plus(to.Line);
        var (bridge, fromCounter) = Bridge(from, to);
        bool taken = _rules.Gaps == GapPolicy.Bridge;
        Gaps = Gaps.Plus(new GapRecord(from.TimeS, to.TimeS, to.Line, taken ? bridge.EnergyJ : 0, fromCounter));
        if (taken)
        {
            Sum(bridge);
        }
    }

    // The counter knows what flowed, if its step is fine enough to tell more than the straight line between the ends does.
    private (PowerInterval Bridge, bool FromCounter) Bridge(in PowerPoint from, in PowerPoint to)
    {
        double length = to.TimeS - from.TimeS;
        double counted = CounterStepJ(from, to);
        double line = 0.5 * (from.PowerW + to.PowerW) * length;
        double meanV = 0.5 * (from.VoltageV + to.VoltageV);
        if (_rules.Source == PowerSource.EnergyCounter
            || (double.IsFinite(counted) && _rules.CounterStepJ <= Math.Max(counted, 0.7 * Math.Max(from.PowerW, to.PowerW) * length)))
        {
            double mean = counted / length;
            return (new PowerInterval(from.TimeS, to.TimeS, mean, mean, meanV, line > 0 ? 0.5 * (from.CurrentA + to.CurrentA) * counted / line : 0, true), true);
        }

        return (new PowerInterval(
            from.TimeS, to.TimeS, Math.Max(from.PowerW, 0), Math.Max(to.PowerW, 0), meanV, 0.5 * (from.CurrentA + to.CurrentA), true), false);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Sum(in PowerInterval interval)
    {
        double length = interval.ToS - interval.FromS;
        if ((interval.FromW < _rules.ReversedBelowW || interval.ToW < _rules.ReversedBelowW)
            && _rules.IsReversed(Math.Min(interval.FromW, interval.ToW), interval.MeanV))
        {
            ReversedJ += interval.EnergyJ;
            return;
        }

        if (!interval.Bridged && _envelope.IsInUse(in interval))
        {
            _run.Add(interval.FromW, interval.ToW, interval.MeanV, interval.MeanA, length);
            _running = true;
            return;
        }

        EndRun();
        _energyJ += interval.EnergyJ;
        _coveredS += length;
        _voltSeconds += interval.MeanV * length;
        _chargeC += interval.MeanA * length;
        _oneWayBoundJ += interval.Bridged ? 0 : 0.5 * Math.Abs(interval.ToW - interval.FromW) * length;
        _envelope.AddInterval(interval);
    }

    // Puts what was summed since the cell in use was entered where it belongs; before that cell is left, and before anybody looks.
    private void EndRun()
    {
        if (!_running)
        {
            return;
        }

        _running = false;
        _energyJ += _run.EnergyJ;
        _coveredS += _run.CoveredS;
        _voltSeconds += _run.VoltSeconds;
        _chargeC += _run.ChargeC;
        _oneWayBoundJ += _run.OneWayBoundJ;
        _envelope.CellInUse.Add(in _run);
        _run = default;
    }
}
