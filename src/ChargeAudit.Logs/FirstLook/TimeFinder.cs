using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Decides how a log writes its times.</summary>
internal sealed class TimeFinder
{
    private const double YearS = 365.25 * 86_400;

    // A charge takes longer, and one that is written in minutes or hours seems to take less. Common practice, no source.
    private const double ShortLogS = 1800;

    // The modified Julian date begins at JD 2400000.5, and 1900-01-01 0 h is its day 15020. Source: Recommendation ITU-R TF.457 (from
    // memory).
    private const double JulianOf1900 = 2_415_020.5;
    private readonly string _path;
    private readonly Table _table;
    private readonly NumberStyle _numbers;
    private readonly LogOptions _options;
    private readonly ColumnFinder.Found _found;
    private readonly ClockColumns _clocks;

    private TimeFinder(string path, Table table, NumberStyle numbers, LogOptions options, ColumnFinder.Found found)
    {
        _path = path;
        _table = table;
        _numbers = numbers;
        _options = options;
        _found = found;
        _clocks = new ClockColumns(path, table, numbers, found.Columns);
    }

    /// <summary>What was found.</summary>
    /// <param name="Plan">How to read times.</param>
    /// <param name="Words">The same for people.</param>
    /// <param name="Start">Absolute time of the first row; null where it is not known.</param>
    /// <param name="StartIsLocal">Whether its zone is unknown.</param>
    public sealed record Result(TimePlan Plan, string Words, DateTimeOffset? Start, bool StartIsLocal);

    /// <summary>Finds the time columns and their form; marks them among the columns.</summary>
    public static Result Find(string path, Table table, NumberStyle numbers, LogOptions options, ColumnFinder.Found found) =>
        new TimeFinder(path, table, numbers, options, found).Find();

    private Result Find()
    {
        int date = Chosen(LogQuantity.Date) ?? _found.DateIndex;
        int clock = Chosen(LogQuantity.Clock) ?? -1;
        int? time = Chosen(LogQuantity.Time);

        // Times in seconds or in UTC need no zone; a wrong name is told all the same.
        if (_options.TimeZone is { } zone && ZoneClock.Find(zone) is null)
        {
            throw LogErrors.UnknownZone(_path, zone);
        }

        List<int> candidates = time is int t
            ? [t]
            : [.. _found.TimeCandidates.Where(i => First(i) is string f && (Cells.IsTime(f) || Cells.IsNumber(f, _table.Separator)))];
        if (time is null && _options.FixedIntervalS is null)
        {
            _clocks.RefuseParts();
        }

        if (_options.FixedIntervalS is double fixedS)
        {
            // Who names the columns without a time leaves that out.
            return time is null && (candidates.Count == 0 || _options.Columns.Count > 0)
                ? Fixed(fixedS)
                : throw LogErrors.IntervalBesideTimes(_path, _found.Columns[candidates[0]].Header, fixedS);
        }

        if (clock < 0 && date >= 0 && time is null)
        {
            clock = candidates.FirstOrDefault(_clocks.IsClock, -1);
        }

        if (date >= 0 && clock >= 0 && First(date) is string d && Cells.IsStamp(Encoding.UTF8.GetBytes(d)))
        {
            return Stamps(TimeForm.DateAndClock, date, clock);
        }

        if (date >= 0 && candidates.Count == 0)
        {
            candidates.Add(date);
        }

        if (candidates.Count == 0)
        {
            candidates.AddRange(Unnamed());
        }

        if (candidates.Count == 0)
        {
            throw LogErrors.NoTime(_path, _table.Header.Count > 0
                ? LogErrors.List(_table.Header)
                : "its columns", ColumnsHints.For(_table, _found.Columns));
        }

        if (time is null && date >= 0 && candidates.FirstOrDefault(c => c != date && _clocks.MayBeClock(c), -1) is >= 0 and int beside)
        {
            throw LogErrors.ClockNumbers(_path, _found.Columns[beside].Header, First(beside)!, beside + 1);
        }

        Result[] results = [.. candidates.Select(Decide)];
        Result best = results.Length == 1 ? results[0] : results.MaxBy(r => Distinct(r.Plan.Index))!;
        Mark(best, results);
        return best;
    }

    // Where several columns are times, the one that resolves most rows is the time base; another may still give the date.
    private void Mark(Result best, Result[] results)
    {
        _found.Columns[best.Plan.Index] = _found.Columns[best.Plan.Index] with
        {
            Quantity = LogQuantity.Time,
            Unit = best.Plan.Form == TimeForm.ElapsedNumber ? _found.Columns[best.Plan.Index].Unit is { Length: > 0 } u ? u : "s" : "",
            Factor = best.Plan.Factor,
            Why = _found.Columns[best.Plan.Index].Why == ColumnFinder.ToldWhy
                ? ColumnFinder.ToldWhy
                : "header words and the form of its fields",
        };
        if (results.Length > 1)
        {
            _found.Notes.Add(
                $"Column {LogErrors.Quote(_found.Columns[best.Plan.Index].Header)} was taken for the time, as it resolves most rows, not "
                + $"{LogErrors.List(results.Where(r => r != best).Select(r => _found.Columns[r.Plan.Index].Header))}.");
        }
    }

    private int Distinct(int index) => _table.Column(index).Distinct().Count();

    private int? Chosen(LogQuantity quantity) => Array.FindIndex(_found.Columns, c => c.Quantity == quantity) is >= 0 and int i ? i : null;

    // The first field that reads as a time or number: the first row may be damaged.
    private string? First(int index) =>
        _table.Column(index).Take(100).FirstOrDefault(f => Cells.IsReadable(f, _table.Separator))
            ?? _table.Column(index).FirstOrDefault(f => f.Length > 0);

    // No header names a time: a column whose fields are all dates, or else all clock times, needs no name.
    private IEnumerable<int> Unnamed()
    {
        bool Allowed(int i) => _found.Columns[i].Quantity == LogQuantity.Ignored;
        int stamps = Enumerable.Range(0, _table.FieldCount)
            .FirstOrDefault(i => Allowed(i) && _table.Column(i).Any() && _table.Column(i).Take(50).All(Cells.IsTime), -1);
        if (stamps >= 0)
        {
            _found.Notes.Add(
                $"Column {LogErrors.Quote(_found.Columns[stamps].Header)} was taken for the time, as its fields are dates or clock times.");
            yield return stamps;
        }
    }

    private static Result Fixed(double fixedS) => new(
        new TimePlan { Form = TimeForm.FixedInterval, FixedIntervalS = fixedS },
        Prose.Of($"a row every {fixedS:0.######} s, as stated"),
        null,
        false);

    private Result Decide(int index)
    {
        string first = First(index) ?? "";
        byte[] bytes = Encoding.UTF8.GetBytes(first);
        LogColumn column = _found.Columns[index];
        bool plainNumber = NumberField.TryRead(bytes, _numbers, out double number);
        if (plainNumber && !(first.Length is 8 or 12 or 14 && Cells.IsStamp(bytes) && column.Unit.Length == 0))
        {
            return Numeric(index, number);
        }

        if (Cells.IsStamp(bytes))
        {
            return Stamps(TimeForm.Stamp, index, -1);
        }

        if (ClockField.TryRead(bytes, false, out _))
        {
            return Clock(index);
        }

        if (NumberField.TryReadWithUnit(bytes, _numbers, out _, out Unit unit) && unit.Kind == UnitKind.Time)
        {
            if (_table.Column(index).Any(Cells.IsClock))
            {
                return Clock(index);
            }

            return new(new TimePlan { Form = TimeForm.ElapsedNumber, Index = index, Factor = unit.Factor },
                "elapsed time with its unit in each field", null, false);
        }

        throw LogErrors.TimeNotUnderstood(_path, column.Header, first);
    }

    private Result Clock(int index)
    {
        List<string> fields = [.. _table.Column(index).Where(f => f.Length > 0)];
        bool twoParts = fields.All(f => f.Count(c => c == ':') == 1);
        bool minutes = twoParts
            && fields.Exists(f => int.TryParse(f.Split(':')[0], NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n > 23);
        bool past24 =
            fields.Exists(f => ClockField.TryRead(Encoding.UTF8.GetBytes(f), minutes, out long ticks) && ticks >= TimeSpan.TicksPerDay);
        string name = _found.Columns[index].Header;
        bool letters = fields.Exists(f => f.AsSpan().IndexOfAny(":.hH") < 0 && Cells.UnitOf(f) is { Kind: UnitKind.Time });
        bool elapsed = past24 || minutes || letters || name.Contains("elapsed", StringComparison.OrdinalIgnoreCase)
            || name.Contains("duration", StringComparison.OrdinalIgnoreCase)
            || name.Contains("run", StringComparison.OrdinalIgnoreCase) || name.Contains("test", StringComparison.OrdinalIgnoreCase)
                || name.Trim() == "t";
        if (minutes)
        {
            _found.Notes.Add($"Times such as {LogErrors.Quote(fields[0])} were read as minutes and seconds.");
        }

        return elapsed
            ? new(new TimePlan { Form = TimeForm.ElapsedClock, Index = index, TwoPartsAreMinutes = minutes }, minutes
                ? "elapsed mm:ss"
                : "elapsed hh:mm:ss", null, false)
            : new(new TimePlan { Form = TimeForm.ClockOfDay, Index = index }, "clock time without a date; it starts again at midnight",
                null, false);
    }

    private Result Numeric(int index, double first)
    {
        LogColumn column = _found.Columns[index];
        bool unitNamed = column.Unit.Length > 0 && UnitTable.TryFind(column.Unit, out Unit unit) && unit.Kind == UnitKind.Time;
        double factor = unitNamed ? column.Factor : 1;
        foreach (var (scale, word) in new[] { (1.0, "seconds"), (1e-3, "milliseconds"), (1e-6, "microseconds"), (1e-9, "nanoseconds") })
        {
            // Between 1990 and 2100: no elapsed time of a charge is that long, whatever its unit.
            if ((!unitNamed || Math.Abs(factor - scale) < scale / 10) && first * scale > 20 * YearS && first * scale < 130 * YearS)
            {
                double baseNumber = Math.Floor(first);
                DateTimeOffset start = DateTimeOffset.UnixEpoch.AddTicks((long)(first * scale * TimeSpan.TicksPerSecond));
                var plan = new TimePlan { Form = TimeForm.Epoch, Index = index, Factor = scale, BaseNumber = baseNumber };
                return new(plan, $"{word} since 1970-01-01 UTC", start, false);
            }
        }

        List<double> numbersSeen = HeadNumbers(index);
        double step = MiddleStep(numbersSeen);
        if (!unitNamed && first is > 20_000 and < 80_000 && step < 0.1 && numbersSeen.Exists(n => n != Math.Floor(n)))
        {
            DateTimeOffset start =
                new(new DateTime(1899, 12, 30).AddTicks((long)Math.Round(first * TimeSpan.TicksPerDay / 10) * 10), TimeSpan.Zero);
            return new(new TimePlan { Form = TimeForm.SerialDays, Index = index, BaseNumber = Math.Floor(first) },
                "days since 1899-12-30, as spreadsheets count", start, true);
        }

        if (!unitNamed && first is > JulianOf1900 and < 2_525_000 && step < 0.1 && numbersSeen.Exists(n => n != Math.Floor(n)))
        {
            // Twelve o'clock at noon begins a Julian day.
            DateTime start = new DateTime(1900, 1, 1).AddTicks((long)((first - JulianOf1900) * TimeSpan.TicksPerDay));
            return new(new TimePlan { Form = TimeForm.SerialDays, Index = index, BaseNumber = Math.Floor(first) - 0.5 },
                "Julian days, in UTC", new DateTimeOffset(start, TimeSpan.Zero), false);
        }

        if (!unitNamed && step >= 50 && numbersSeen.TrueForAll(n => n == Math.Floor(n)))
        {
            _found.Ambiguities.Add(
                Prose.Of($"Column {LogErrors.Quote(column.Header)} has no unit and steps of {step:0.###}; ")
                + "they were taken for milliseconds, not seconds.");
            factor = 1e-3;
            _found.Columns[index] = column with { Unit = "ms", Factor = factor };
        }

        if (!unitNamed && factor == 1 && numbersSeen.Count > 1 && column.Why != ColumnFinder.ToldWhy)
        {
            DoubtSeconds(column, numbersSeen[^1] - numbersSeen[0], step, first);
        }

        string unitWord = _found.Columns[index].Unit is { Length: > 0 } symbol ? symbol : "s";
        return new(new TimePlan { Form = TimeForm.ElapsedNumber, Index = index, Factor = factor }, $"elapsed time in {unitWord}", null,
            false);
    }

    private List<double> HeadNumbers(int index)
    {
        if (_table.Plain.At(index, _numbers.Decimal) is { } plain)
        {
            return [.. plain.Values[0]];
        }

        var seen = new List<double>(_table.Runs[0].Count);
        Span<byte> room = stackalloc byte[FieldBytes.Room];
        foreach (string[] row in _table.Runs[0])
        {
            if (index < row.Length && NumberField.TryRead(FieldBytes.Of(row[index], room), _numbers, out double n) && double.IsFinite(n))
            {
                seen.Add(n);
            }
        }

        return seen;
    }

    private static double MiddleStep(List<double> numbers)
    {
        var steps = new List<double>(numbers.Count);
        for (int i = 1; i < numbers.Count; i++)
        {
            if (numbers[i] - numbers[i - 1] > 0)
            {
                steps.Add(numbers[i] - numbers[i - 1]);
            }
        }

        return steps.Count > 0 ? HighMedian.Of(CollectionsMarshal.AsSpan(steps)) : 1;
    }

    // Minutes or hours look like short times of many digits; a log of whole seconds, or of rounded ones, does not.
    private void DoubtSeconds(LogColumn column, double spanS, double step, double first)
    {
        bool whole = step >= 1 && Math.Abs(step - Math.Round(step)) < 0.05 * step;
        if (!whole && spanS + Math.Abs(first) < ShortLogS)
        {
            _found.Ambiguities.Add(
                Prose.Of($"Column {LogErrors.Quote(column.Header)} has no unit and steps of {step:0.#####}; ")
                + "s was taken for it, not min or h.");
        }
    }

    private Result Stamps(TimeForm form, int index, int clockIndex)
    {
        DateOrder order = _options.DateOrder ?? DateOrderFinder.Find(_path, _table, index, _found.Notes);
        var reader = new StampReader(order);
        string text = First(index)!;
        if (!reader.TryRead(Encoding.UTF8.GetBytes(text), out Stamp stamp))
        {
            throw LogErrors.TimeNotUnderstood(_path, _found.Columns[index].Header, text);
        }

        if (clockIndex >= 0)
        {
            if (!ClockField.TryRead(Encoding.UTF8.GetBytes(First(clockIndex) ?? ""), false, out long ticks))
            {
                throw LogErrors.TimeNotUnderstood(_path, _found.Columns[clockIndex].Header, First(clockIndex) ?? "");
            }

            stamp = stamp with { LocalTicks = stamp.LocalTicks + ticks };
            _found.Columns[index] = _found.Columns[index] with
            {
                Quantity = LogQuantity.Date,
                Unit = "",
                Why = "header words and the form of its fields",
            };
            _found.Columns[clockIndex] = _found.Columns[clockIndex] with
            {
                Quantity = LogQuantity.Clock,
                Unit = "",
                Why = "header words and the form of its fields",
            };
        }

        NodaTime.DateTimeZone? zone = null;
        if (_options.TimeZone is string name)
        {
            zone = ZoneClock.Find(name) ?? throw LogErrors.UnknownZone(_path, name);
        }

        bool offset = stamp.OffsetMinutes is not null;
        long utc = offset || zone is null ? stamp.UtcTicks : new ZoneClock(zone).ToUtc(stamp.LocalTicks);
        var start = new DateTimeOffset(stamp.LocalTicks, TimeSpan.FromTicks(stamp.LocalTicks - utc));
        var plan = new TimePlan
        {
            Form = form,
            Index = index,
            ClockIndex = clockIndex,
            Order = order,
            Zone = zone,
            BaseTicks = utc - (utc % TimeSpan.TicksPerDay),
        };
        string where = offset ? "with offset" : zone is not null ? $"local time of {_options.TimeZone}" : "local time of an unknown zone";
        string shape = text.Length > 4 && text.AsSpan(0, 4).IndexOfAnyExceptInRange('0', '9') < 0 ? "ISO 8601" : char.IsAsciiLetter(text[0])
            ? "month name first"
            : order == DateOrder.DayFirst ? "day first" : "month first";
        return new(plan, $"{shape}{(clockIndex >= 0 ? ", date and clock time in two columns" : "")}, {where}", start, !offset
            && zone is null);
    }
}
