using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Metering;

/// <summary>What a meter makes of a trace: it reads by its own clock, errs, rounds, loses rows and writes text.</summary>
internal sealed class LogSimulation
{
    private readonly MeterModel _meter;
    private readonly MeterErrors _errors;
    private readonly RandomSource _random;
    private readonly LogMishap? _mishap;
    private readonly double _aheadS;
    private CompensatedSum _countedJ;
    private double _resetJ;

    private LogSimulation(MeterModel meter, MeterErrors errors, RandomSource random, LogMishap? mishap)
    {
        (_meter, _errors, _random, _mishap) = (meter, errors, random, mishap);
        _aheadS = (mishap?.ClockAheadS ?? 0) + random.NextWithin(meter.ClockSpreadS);
    }

    /// <summary>Writes the log of one meter of one run.</summary>
    public static SimulatedLog Write(RunPlan plan, PowerTrace trace, MeterModel meter, MeterErrors errors, RandomSource random)
    {
        LogSimulation log = new(meter, errors, random, plan.Mishaps.FirstOrDefault(m => m.Meter == meter.Name));
        return log.Write(plan, trace);
    }

    private SimulatedLog Write(RunPlan plan, PowerTrace trace)
    {
        RowText text = new(_meter, plan.Start);
        TraceReader reader = new(trace, _meter.Point);
        double[] values = new double[_meter.Columns.Count];
        double firstClockS = double.NaN;
        int rows = 0;
        int lost = 0;
        bool average = _meter.Samples != SampleKind.Instantaneous;
        long number = (long)Math.Ceiling(_aheadS / _meter.IntervalS);
        double counterFromS = 0;
        for (long k = average ? number + 1 : number; TrueTimeS(k) <= trace.DurationS; k++)
        {
            double fromS = average ? TrueTimeS(k - 1) : counterFromS;
            double toS = TrueTimeS(k);
            TrueReading mean = reader.Mean(fromS, toS);
            TrueReading reading = average ? mean : reader.At(toS);
            Count(mean.PowerW, fromS, toS);
            counterFromS = toS;
            Read(reading, values);
            bool inGap = toS >= (_mishap?.GapFromS ?? double.NaN) && toS < _mishap!.GapFromS + _mishap.GapLengthS;
            if (inGap || _random.NextUnit() < _meter.LostShare)
            {
                lost++;
                continue;
            }

            double clockS = (_meter.Samples == SampleKind.AverageStarting ? k - 1 : k) * _meter.IntervalS;
            firstClockS = double.IsNaN(firstClockS) ? clockS : firstClockS;
            text.Row(clockS, clockS - firstClockS, values);
            rows++;
        }

        return new SimulatedLog
        {
            FileName = plan.Id + "-" + StableName.Of(_meter.Point) + ".csv",
            Meter = _meter,
            Text = text.ToString(),
            ClockAheadS = _aheadS,
            Rows = rows,
            RowsLost = lost,
            Mishap = _mishap,
        };
    }

    /// <summary>True time, from the run's start, at which the meter's clock shows k intervals.</summary>
    private double TrueTimeS(long k) => ((k * _meter.IntervalS) - _aheadS) / (1 + _meter.ClockDrift);

    private void Count(double meanW, double fromS, double toS)
    {
        _countedJ += Math.Max(0, _errors.Of(LogQuantity.Energy).Apply(meanW)) * (toS - fromS);
        if (_mishap is { } mishap && mishap.CounterResetAtS > fromS && mishap.CounterResetAtS <= toS)
        {
            _resetJ = _countedJ.Value;
        }
    }

    private void Read(TrueReading reading, double[] values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            MeterColumn column = _meter.Columns[i];
            double truth = column.Quantity switch
            {
                LogQuantity.Voltage => reading.VoltageV,
                LogQuantity.Current => reading.CurrentA,
                LogQuantity.Power => reading.PowerW,
                LogQuantity.ApparentPower => reading.VoltageV * reading.CurrentA,
                LogQuantity.PowerFactor => reading.CurrentA == 0 ? 0 : reading.PowerW / (reading.VoltageV * reading.CurrentA),
                _ => double.NaN,
            };
            double shown = column.Quantity == LogQuantity.Energy
                ? _countedJ.Value - _resetJ
                : _errors.Of(column.Quantity).Apply(truth) + (column.Noise > 0 ? column.Noise * _random.NextNormal() : 0);
            // Except at the battery, these meters show no sign: what noise takes below zero shows as zero.
            shown = _meter.Point == MeasuringPoint.Battery ? shown : Math.Max(0, shown);
            shown = column.Quantity == LogQuantity.PowerFactor ? Math.Min(1, shown) : shown;
            double steps = shown / column.Factor / column.Step;
            // A counter shows what it has passed, other displays the nearest step; adding zero removes the sign of a negative zero.
            values[i] = ((column.Quantity == LogQuantity.Energy ? Math.Floor(steps) : Math.Round(steps, MidpointRounding.AwayFromZero))
                * column.Step) + 0.0;
        }
    }
}
