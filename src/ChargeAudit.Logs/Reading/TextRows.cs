using System.Text.Unicode;
using ChargeAudit.Logs.Cleaning;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Logs.Time;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using CsvHelper;

namespace ChargeAudit.Logs.Reading;

/// <summary>Reads the rows of a text log once, from the first to the last, without an allocation per row.</summary>
internal static class TextRows
{
    // Small slots beside LogQuantity, so that a row's values fit a few registers' worth of stack.
    public const LogQuantity FirstSlot = LogQuantity.Voltage;
    public const int Slots = LogQuantity.Frequency - LogQuantity.Voltage + 1;

    /// <summary>Reads a stream of UTF-8 text.</summary>
    public static ReadOutcome Read<TSink>(LogSource source, TapStream tap, Stream text, LogLayout layout, LogOptions options,
        ref TSink sink)
        where TSink : struct, ISampleSink
    {
        PartOutcome read = ReadPart(source, tap, text, layout, options, null, ref sink);
        Judge(source.Path, read.Outcome, read.Incomplete, options);
        return read.Outcome;
    }

    /// <summary>Reads a stream of UTF-8 text that may begin within a log; whether there are too many bad rows is not judged.</summary>
    /// <remarks>Where <paramref name="start"/> is null the text is the log, or its head.</remarks>
    public static PartOutcome ReadPart<TSink>(LogSource source, TapStream tap, Stream text, LogLayout layout, LogOptions options,
        PartStart? start, ref TSink sink)
        where TSink : struct, ISampleSink
    {
        TextPlan plan = start is null ? layout.Plan! : layout.Plan! with { FirstDataLine = 1 };
        var tally = new FaultCounts(source.Path, options.Strict);
        var odd = new OddRows(plan, tally, layout.Samples == SampleKind.OnChange);
        var gate = new SampleGate<TSink>(ref sink, layout, tally, options.RepeatedLines);
        var check = new TextCheckStream(text);
        long line = start?.LinesBefore ?? 0;
        if (start is { } begun)
        {
            gate.GoOnFrom(begun.OffsetS, begun.LastRawS);
        }

        try
        {
            if (layout.Samples != SampleKind.OnChange && ParallelRows.Suits(source, plan, options))
            {
                // The thread that reads has the bytes at hand; a second reading of the file would take as long as a twentieth of the
                // parsing.
                tap.TakeOverHash();
                ParallelRows.Read(source.Path, text, plan, odd, ref gate, tally, ref line, options.PieceBytes);
            }
            else
            {
                using CsvReader rows = SeparatedRows.Open(plan.BlankRuns ? new SpaceRunStream(check) : check, plan.Separator);
                ReadRows(rows, plan, odd, ref gate, check, tally, ref line);
            }
        }
        catch (CsvFormatException)
        {
            throw LogErrors.LineTooLong(source.Path, line + 1, SeparatedRows.LongestLineBytes);
        }
        catch (IOException e)
        {
            throw LogErrors.Unreadable(source.Path, e);
        }

        odd.Finish();
        gate.Finish();
        string hash = tap.Finish();
        var outcome = new ReadOutcome(gate.Passed, odd.Skipped + gate.Dropped + gate.Repeated, tap.Count, tally.Faults, hash)
        {
            Notes = OddRows.NotesOf(odd.PassedOver, odd.Away.Held),
        };
        return new PartOutcome(outcome, odd.Incomplete - gate.Repeated, line, odd.Away.Held, odd.PassedOver, gate.FirstOffsetS,
            gate.OffsetS, gate.LastRawS);
    }

    /// <summary>Reads rows one after the other; the line count goes on from where it is.</summary>
    public static void ReadRows<TSink>(CsvReader rows, TextPlan plan, OddRows odd, ref SampleGate<TSink> gate, TextCheckStream check,
        FaultCounts tally, ref long line)
        where TSink : struct, ISampleSink
    {
        while (line < plan.FirstDataLine - 1 && rows.Read())
        {
            line++;
        }

        var time = new TimeReader(plan.Time, plan.Numbers);
        int timeIndex = plan.Time.Index;
        int clockIndex = plan.Time.ClockIndex;
        FieldPlan[] fields = [.. plan.Fields];
        bool held = odd.Away.Held;
        Span<double> values = stackalloc double[Slots];
        while (rows.Read())
        {
            line++;
            if (check.Dirty && !IsText(rows.RawRecord))
            {
                tally.Add(FaultKind.Encoding, line,
                    "Rows hold bytes that are not text in the log's encoding; their other fields were read.");
            }

            if (rows.FieldCount != plan.FieldCount && !odd.IsReadings(rows, line))
            {
                continue;
            }

            if (!time.TryRead(timeIndex < 0 ? default : rows.GetSpan(timeIndex), clockIndex < 0
                ? default
                : rows.GetSpan(clockIndex), out double rawS))
            {
                odd.NoTime(rows, line);
                continue;
            }

            values.Fill(double.NaN);
            bool usable = false;
            bool incomplete = false;
            bool away = false;
            foreach (FieldPlan field in fields)
            {
                ReadOnlySpan<byte> span = rows.GetSpan(field.Index);
                double value = NumberField.TryRead(span, plan.Numbers, out double number)
                    ? field.Coherent(number)
                    : odd.ReadUnusual(span, field, line, ref incomplete, ref away);
                values[field.Quantity - FirstSlot] = value;
                usable |= !double.IsNaN(value);
            }

            if (away)
            {
                incomplete = true;
                if (odd.Away.Begins(line))
                {
                    gate.Push(rawS, odd.Away.Last with { TimeS = rawS + gate.OffsetS, Line = line });
                }

                if (held || !usable)
                {
                    continue;
                }
            }

            if (!usable)
            {
                odd.NoReading(line, told: incomplete);
                continue;
            }

            if (incomplete)
            {
                odd.CountIncomplete();
            }

            odd.RowFollows();
            Sample sample = Make(rawS + gate.OffsetS, values, line);
            gate.Push(rawS, held ? odd.Away.Passes(sample) : sample);
        }
    }

    /// <summary>A sample of the values in their slots.</summary>
    public static Sample Make(double timeS, ReadOnlySpan<double> values, long line) => new()
    {
        TimeS = timeS,
        VoltageV = values[LogQuantity.Voltage - FirstSlot],
        CurrentA = values[LogQuantity.Current - FirstSlot],
        PowerW = values[LogQuantity.Power - FirstSlot],
        ApparentPowerVA = values[LogQuantity.ApparentPower - FirstSlot],
        PowerFactor = values[LogQuantity.PowerFactor - FirstSlot],
        EnergyCounterJ = values[LogQuantity.Energy - FirstSlot],
        ChargeCounterC = values[LogQuantity.Charge - FirstSlot],
        TemperatureC = values[LogQuantity.Temperature - FirstSlot],
        Line = line,
    };

    private static bool IsText(ReadOnlySpan<byte> row) => Utf8.IsValid(row) && !row.Contains((byte)0);

    /// <summary>Refuses a log without rows, or with too many bad ones.</summary>
    public static void Judge(string path, ReadOutcome outcome, long incomplete, LogOptions options)
    {
        if (outcome.Rows == 0 && outcome.RowsSkipped == 0)
        {
            throw LogErrors.NoRows(path);
        }

        // Two bad rows are allowed even in the shortest log: a cut last line must not cause its refusal.
        long bad = outcome.RowsSkipped + incomplete;
        long rows = outcome.Rows + outcome.RowsSkipped;
        double allowed = Math.Max(options.MaxBadRowShare * rows, options.MaxBadRowShare > 0 ? 2 : 0);
        if (outcome.Rows == 0 || bad > allowed)
        {
            throw LogErrors.TooManyBadRows(path, bad, rows, options.MaxBadRowShare, outcome.Faults.MaxBy(f => f.Count)!);
        }
    }
}
