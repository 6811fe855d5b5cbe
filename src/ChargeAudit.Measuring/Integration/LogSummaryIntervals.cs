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
            GapBeside(from, to);
        }
        else if (_betweenRows is not null)
        {
            JoinWatched(in from, in to);
        }
        else if (length > 0 && _rules.Source != PowerSource.EnergyCounter)
        {
            Sum(Interval(from, to));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private PowerInterval Interval(in PowerPoint from, in PowerPoint to)
    {
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

    // An interval's energy is known though the row beside it is missing.
    [MethodImpl(MethodImplOptions.NoInlining)]
    private void GapBeside(in PowerPoint from, in PowerPoint to)
    {
        double lengthS = to.AfterClockStep || to.TimeS - from.TimeS <= _rules.IntervalS ? 0 : _rules.IntervalS;
        if (lengthS > 0 && _rules.Samples == SampleKind.AverageStarting)
        {
            Sum(Flat(from.TimeS, from.TimeS + lengthS, from));
            Gap(@from with { TimeS = from.TimeS + lengthS }, to);
        }
        else if (lengthS > 0 && _rules.Samples == SampleKind.AverageEnding)
        {
            Gap(from, to with { TimeS = to.TimeS - lengthS });
            Sum(Flat(to.TimeS - lengthS, to.TimeS, to));
        }
        else
        {
            Gap(from, to);
        }
    }

    private void Gap(in PowerPoint from, in PowerPoint to)
    {
        _gapFaults = _gapFaults.Plus(to.Line);
        _betweenRows?.Interrupt();
        if (_rules.Source == PowerSource.EnergyCounter)
        {
            Gaps = Gaps.Plus(new GapRecord(from.TimeS, to.TimeS, to.Line, 0, true));
            return;
        }

        // The straight line between its ends; whether the counter tells more shows when the whole log is in.
        var bridge = new PowerInterval(
            from.TimeS, to.TimeS, Math.Max(from.PowerW, 0), Math.Max(to.PowerW, 0), 0.5 * (from.VoltageV + to.VoltageV), 0.5
                * (from.CurrentA + to.CurrentA), true);
        bool taken = _rules.Gaps == GapPolicy.Bridge;
        Gaps = Gaps.Plus(new GapRecord(from.TimeS, to.TimeS, to.Line, taken ? bridge.EnergyJ : 0, false)
        {
            BridgeJ = bridge.EnergyJ,
            FromW = bridge.FromW,
            ToW = bridge.ToW,
            MeanA = bridge.MeanA,
        });
        if (taken)
        {
            Sum(bridge);
        }
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
        _envelope.AddInterval(interval);
    }

    // Puts what was summed since the cell in use was entered where it belongs, before that cell is left.
    private void EndRun()
    {
        if (_running)
        {
            _envelope.CellInUse.Add(in _run);
            SumRun();
        }
    }

    private void SumRun()
    {
        if (_running)
        {
            _running = false;
            _energyJ += _run.EnergyJ;
            _coveredS += _run.CoveredS;
            _voltSeconds += _run.VoltSeconds;
            _chargeC += _run.ChargeC;
            _run = default;
        }
    }
}
