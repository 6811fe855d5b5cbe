using ChargeAudit.Logs.Reading;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Integration;

// The rows that nearly all of a large log is made of, column by column: what is kept of them stays in registers for as long as they lie in
// one cell of the envelope. Every sum here is the one that a row by itself goes through, so that both ways give the same bits.
public sealed partial class LogSummary
{
    /// <summary>Adds rows that follow one another without a fault; the same as adding each by itself.</summary>
    private void Add(in RowBlock rows)
    {
        RefuseIfFinished();
        int next = 0;
        bool inColumns = _takesBlocks && rows.Of(LogQuantity.Energy).IsEmpty && rows.Of(LogQuantity.Charge).IsEmpty;
        while (next < rows.Count)
        {
            next = inColumns ? AddRun(in rows, next) : next;
            if (next < rows.Count)
            {
                Add(rows.Row(next++));
            }
        }
    }

    // Takes rows up to the first that leaves the cell, or needs a judgement; returns that one.
    private int AddRun(in RowBlock rows, int from)
    {
        if (Samples == 0 || !_envelope.IsInUse(_last.TimeS) || !(_last.PowerW >= _rules.ReversedBelowW))
        {
            return from;
        }

        var times = rows.TimesS;
        var volts = rows.Of(LogQuantity.Voltage);
        var amperes = rows.Of(LogQuantity.Current);
        var powers = rows.Of(LogQuantity.Power);
        bool product = _rules.Source == PowerSource.DirectCurrentProduct;
        if (product ? volts.IsEmpty || amperes.IsEmpty : powers.IsEmpty)
        {
            return from;
        }

        double least = Math.Max(_rules.ReversedBelowW, -_rules.ImplausibleAboveW);
        double most = _rules.ImplausibleAboveW;
        double longest = _rules.GapThresholdS;
        double end = _envelope.CellToS;
        double latest = _rules.ToS;
        double timeS = _last.TimeS, watts = _last.PowerW, volt = _last.VoltageV, ampere = _last.CurrentA;
        double min = double.PositiveInfinity, max = double.NegativeInfinity;
        var run = _run;
        long equal = 0;
        int i = from;
        for (; i < times.Length; i++)
        {
            double toS = times[i];
            double toV = volts.IsEmpty ? 0 : volts[i];
            double toA = amperes.IsEmpty ? 0 : amperes[i];
            double toW = product ? toV * toA : powers[i];
            double lengthS = toS - timeS;
            if (!(lengthS > 0 && lengthS <= longest && toS < end && toS <= latest && toW >= least && toW <= most))
            {
                break;
            }

            run.Add(watts, toW, 0.5 * (volt + toV), 0.5 * (ampere + toA), lengthS);
            equal += toW == watts ? 1 : 0;
            max = toW > max ? toW : max;
            min = toW < min ? toW : min;
            (timeS, watts, volt, ampere) = (toS, toW, toV, toA);
        }

        if (i > from)
        {
            _run = run;
            _running = true;
            _last = new PowerPoint(timeS, watts, volt, ampere, double.NaN, rows.FirstLine + i - 1, false);
            Samples += i - from;
            _dwelling += equal;
            PeakPowerW = max > PeakPowerW ? max : PeakPowerW;
            _envelope.CellInUse.AddReadings(i - from, min, max);
        }

        return i;
    }
}
