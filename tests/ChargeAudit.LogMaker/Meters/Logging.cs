using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.Meters;

/// <summary>Lets a meter write its log of a course.</summary>
public static class Logging
{
    /// <summary>On change, a row is written after this long in any case. [s]</summary>
    private const double HeartbeatS = 600;

    /// <summary>The rows, in order of time.</summary>
    /// <param name="course">What flows.</param>
    /// <param name="meter">The meter.</param>
    /// <param name="dice">Noise, the place of the rows and where the counter stands.</param>
    /// <param name="gap">Rows lost, from and to, in seconds since the course began; none where both are zero.</param>
    public static IReadOnlyList<LogRow> Of(Course course, MeterSheet meter, Dice dice, (double FromS, double ToS) gap = default)
    {
        List<LogRow> rows = [];
        double counterStart = meter.CounterStepWh * (dice.Chance(0.5) ? 0 : dice.Between(0, 1000));
        double first = dice.Unit() * Math.Min(meter.IntervalS, course.LengthS / 10);
        double lastWritten = double.NaN;
        double lastTime = double.NegativeInfinity;
        bool ending = meter.Kind == RowKind.AverageEnding;
        for (double t = first + (ending ? meter.IntervalS : 0); t <= course.LengthS
            - (meter.Kind == RowKind.AverageStarting ? meter.IntervalS : 0); t += meter.IntervalS)
        {
            double at = t + (meter.Kind == RowKind.Instantaneous ? dice.Unit() * meter.Jitter * meter.IntervalS : 0);
            (double from, double to) = meter.Kind switch
            {
                RowKind.AverageEnding => (t - meter.IntervalS, t),
                RowKind.AverageStarting => (t, t + meter.IntervalS),
                _ => (at, at),
            };
            LogRow row = Read(course, meter, dice, from, to, at);
            if (meter.CounterStepWh > 0)
            {
                row = row with { CounterWh = Counter(course, meter, counterStart, at) };
            }

            bool lost = (t > gap.FromS && t < gap.ToS) || (meter.RowsLost > 0 && dice.Chance(meter.RowsLost));
            if (meter.Kind == RowKind.OnChange && Math.Abs(row.PowerW - lastWritten) < meter.ReportsW && t - lastTime < HeartbeatS)
            {
                continue;
            }

            if (!lost)
            {
                rows.Add(row with { TimeS = Math.Round(row.TimeS + meter.AheadS, 3) });
                lastWritten = row.PowerW;
                lastTime = t;
            }
        }

        return rows;
    }

    private static LogRow Read(Course course, MeterSheet meter, Dice dice, double from, double to, double at)
    {
        if (meter.Kind == RowKind.CounterOnly)
        {
            return new LogRow(at, double.NaN, double.NaN, double.NaN, double.NaN);
        }

        double Value(Trace trace) => to > from ? trace.Mean(from, to) : trace.At(at);
        double power = Value(course.PowerW(meter.Place));
        if (!meter.OnDirectCurrent)
        {
            double shown = meter.Shown(power, 0, 0) + (meter.PowerNoise * dice.Normal());
            return new LogRow(at, meter.CutsDown ? Math.Floor(shown / meter.PowerStep) * meter.PowerStep : Rounded(shown, meter.PowerStep),
                double.NaN, double.NaN, double.NaN);
        }

        (double voltage, double current) = (Value(course.Voltage), Value(course.Current));
        double voltageNoise = meter.VoltageNoise * dice.Normal();
        double currentNoise = meter.CurrentNoise * dice.Normal();
        double shownPower = meter.Shown(power, voltage, current) + (voltageNoise * current) + (currentNoise * voltage);
        return new LogRow(
            at,
            meter.WritesPower ? Rounded(shownPower, meter.PowerStep) : double.NaN,
            Rounded((voltage * (1 + meter.VoltageError.Gain)) + meter.VoltageError.Offset + voltageNoise, meter.VoltageStep),
            Rounded((meter.Reversed ? -1 : 1) * ((current * (1 + meter.CurrentError.Gain)) + meter.CurrentError.Offset + currentNoise),
                meter.CurrentStep),
            double.NaN);
    }

    // The counter's data sheet has a gain only, so the counter errs by that of its meter; it never runs backwards and shows whole steps
    // only.
    private static double Counter(Course course, MeterSheet meter, double startWh, double t) =>
        Math.Floor((startWh + (course.PowerW(meter.Place).Integral(0, t) * meter.CounterGain / 3600)) / meter.CounterStepWh)
            * meter.CounterStepWh;

    private static double Rounded(double value, double step) => step > 0 ? Math.Round(value / step) * step : value;
}
