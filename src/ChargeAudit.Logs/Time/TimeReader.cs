using ChargeAudit.Logs.Numbers;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.Time;

/// <summary>Reads the time of each row as seconds from the plan's zero. One reader serves one pass over a log, in its order.</summary>
internal sealed class TimeReader
{
    private const double TickS = 1e-7;
    private const double DayS = 86_400;

    // About three centuries, more than lies between any clock's zero and now.
    private const double GreatestS = 1e10;

    // A clock of day that falls back by less than this has been set, or a row is out of order; by more, midnight has passed.
    private const double LargestClockSetS = 3_660;

    private readonly TimePlan _plan;
    private readonly NumberStyle _numbers;
    private readonly StampReader _stamps;
    private readonly ZoneClock? _zone;
    private double _lastClockS = double.NaN;
    private double _daysS;
    private long _fixedRow;

    public TimeReader(TimePlan plan, NumberStyle numbers)
    {
        _plan = plan;
        _numbers = numbers;
        _stamps = new StampReader(plan.Order);
        _zone = plan.Zone is null ? null : new ZoneClock(plan.Zone);
    }

    /// <summary>Reads the time of a row.</summary>
    /// <param name="field">Its time, or its date; empty where rows come at a fixed interval.</param>
    /// <param name="clockField">Its clock time where that is a column of its own.</param>
    /// <param name="rawS">Seconds from the plan's zero; not necessarily rising. [s]</param>
    public bool TryRead(ReadOnlySpan<byte> field, ReadOnlySpan<byte> clockField, out double rawS)
    {
        switch (_plan.Form)
        {
            case TimeForm.ElapsedNumber or TimeForm.Epoch:
                if (NumberField.TryRead(field, _numbers, out double number))
                {
                    return TryPlace(number, out rawS);
                }

                bool withUnit = NumberField.TryReadWithUnit(field, _numbers, out number, out Unit unit) && unit.Kind == UnitKind.Time;
                rawS = number * unit.Factor;
                return withUnit && _plan.BaseNumber == 0 && CanBeMeant(rawS);
            case TimeForm.Stamp:
                rawS = 0;
                return _stamps.TryRead(field, out Stamp stamp) && TryPlace(stamp, out rawS);
            case TimeForm.DateAndClock:
                rawS = 0;
                return _stamps.TryRead(field, out Stamp date)
                    && ClockField.TryRead(clockField, twoPartsAreMinutes: false, out long clock)
                    && TryPlace(date with { LocalTicks = date.LocalTicks + clock }, out rawS);
            case TimeForm.ClockOfDay:
                return TryReadClock(field, out rawS);
            case TimeForm.ElapsedClock:
                if (ClockField.TryRead(field, _plan.TwoPartsAreMinutes, out long ticks))
                {
                    rawS = ticks * TickS;
                    return CanBeMeant(rawS);
                }

                // Among 1m10s and the like, 50s and 2h.
                bool onePart = NumberField.TryReadWithUnit(field, _numbers, out number, out unit) && unit.Kind == UnitKind.Time;
                rawS = number * unit.Factor;
                return onePart && CanBeMeant(rawS);
            case TimeForm.SerialDays:
                bool serial = NumberField.TryRead(field, _numbers, out double days);
                return TryPlace(days, out rawS) && serial;
            case TimeForm.FixedInterval:
                rawS = _fixedRow++ * _plan.FixedIntervalS;
                return true;
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    /// <summary>Whether times are plain numbers, so that one that is read already can be placed.</summary>
    public bool TakesNumbers => _plan.Form is TimeForm.ElapsedNumber or TimeForm.Epoch or TimeForm.SerialDays;

    /// <summary>The time that a number stands for.</summary>
    /// <param name="number">The number.</param>
    /// <param name="rawS">Seconds from the plan's zero. [s]</param>
    public bool TryPlace(double number, out double rawS)
    {
        rawS = (number - _plan.BaseNumber) * (_plan.Form == TimeForm.SerialDays ? DayS : _plan.Factor);
        return CanBeMeant(rawS);
    }

    // A stamp in another unit than its neighbours', or torn digits: no log goes on for centuries.
    private static bool CanBeMeant(double rawS) => Math.Abs(rawS) <= GreatestS;

    private bool TryPlace(Stamp stamp, out double rawS)
    {
        long utc = stamp.OffsetMinutes is null && _zone is not null ? _zone.ToUtc(stamp.LocalTicks) : stamp.UtcTicks;
        rawS = (utc - _plan.BaseTicks) * TickS;
        return true;
    }

    private bool TryReadClock(ReadOnlySpan<byte> field, out double rawS)
    {
        bool read = ClockField.TryRead(field, _plan.TwoPartsAreMinutes, out long ticks);
        double clockS = ticks * TickS;
        if (read && clockS < _lastClockS && _lastClockS - clockS > LargestClockSetS)
        {
            _daysS += DayS;
        }
        else if (read && _daysS > 0 && clockS - _lastClockS > DayS - LargestClockSetS)
        {
            // A row from before midnight that stands after one from after it.
            rawS = _daysS - DayS + clockS;
            return true;
        }

        _lastClockS = read ? clockS : _lastClockS;
        rawS = _daysS + clockS;
        return read;
    }
}
