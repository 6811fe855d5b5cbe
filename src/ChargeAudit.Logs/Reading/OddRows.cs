using System.Text;
using ChargeAudit.Logs.Cleaning;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using CsvHelper;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Judges the rows that are not plain rows of readings: comments, repeated headers, text after the table, rows with too few or too many
/// fields, fields that hold no number. Everything is either counted as a fault or mentioned in a note.
/// </summary>
internal sealed class OddRows(TextPlan plan, FaultCounts tally, bool held = false)
{
    /// <summary>Kinds of rows that are passed over.</summary>
    public const int Kinds = 5;

    // Text after the table is held back until it is known that no row of readings follows it.
    private const int LongestTrailer = 64;

    private readonly Queue<Pending> _pending = new();
    private FaultTally _comments;
    private FaultTally _headers;
    private FaultTally _rules;
    private FaultTally _trailers;

    /// <summary>Rows that say that the sensor was away.</summary>
    public AwayRows Away { get; } = new(held);

    private readonly record struct Pending(FaultKind Kind, long Line, string Detail);

    /// <summary>Rows left out.</summary>
    public long Skipped { get; private set; }

    /// <summary>Rows kept of which an electrical reading could not be read.</summary>
    public long Incomplete { get; private set; }

    /// <summary>What was passed over: comment lines, repeated headers, drawn lines, text after the last row, rows without the
    /// sensor.</summary>
    public IReadOnlyList<FaultTally> PassedOver => [_comments, _headers, _rules, _trailers, Away.Rows];

    /// <summary>What was passed over, in words.</summary>
    /// <param name="rows">As <see cref="PassedOver"/> has it.</param>
    /// <param name="held">Whether values hold until the next row.</param>
    public static IReadOnlyList<string> NotesOf(IReadOnlyList<FaultTally> rows, bool held) =>
    [
        .. ((string[])["comment line", "repeated header line", "drawn line", "line of text after the last row"])
            .Zip(rows).Where(p => p.Second.Count > 0).Select(p => InWords(p.First, p.Second)),
        .. AwayRows.NotesOf(rows[^1], held),
    ];

    /// <summary>Judges a row whose number of fields differs; returns whether it is a row of readings all the same.</summary>
    public bool IsReadings(CsvReader row, long line)
    {
        int extra = row.FieldCount - plan.FieldCount;
        if (extra < 0 && row.FieldCount >= plan.FewestFields)
        {
            return true;
        }

        if (extra > 0)
        {
            bool onlyBlanks = true;
            for (int i = plan.FieldCount; i < row.FieldCount && onlyBlanks; i++)
            {
                onlyBlanks = NumberField.IsBlank(row.GetSpan(i));
            }

            if (onlyBlanks)
            {
                return true;
            }
        }

        if (!PassesOver(row, line))
        {
            string detail = extra < 0
                ? $"{Count(row.FieldCount)} where {plan.FieldCount} were expected; such rows were left out."
                : $"{Count(row.FieldCount)} where {plan.FieldCount} were expected; such rows were left out, as it is not known which field "
                    + "is too many.";
            Leave(row, line, extra < 0 ? FaultKind.ShortRow : FaultKind.LongRow, detail);
        }

        return false;
    }

    /// <summary>Counts a row whose time cannot be read.</summary>
    public void NoTime(CsvReader row, long line)
    {
        if (!PassesOver(row, line))
        {
            int index = Math.Max(0, plan.Time.Index);
            Leave(row, line, FaultKind.UnreadableField,
                $"{LogErrors.Quote(row.GetSpan(index))} is no time in the form of the other rows; rows without a time were left out.");
        }
    }

    /// <summary>Settles text held back, once a row of readings follows it.</summary>
    public void RowFollows()
    {
        if (_pending.Count > 0)
        {
            Settle();
        }
    }

    /// <summary>Reads a field that is not a plain number.</summary>
    /// <param name="span">The field.</param>
    /// <param name="field">What it should hold.</param>
    /// <param name="line">Line number.</param>
    /// <param name="incomplete">Set where an electrical reading is lost.</param>
    /// <param name="away">Set where an electrical reading is a word that says that the sensor was away.</param>
    /// <returns>The value in the coherent unit; NaN where there is none.</returns>
    public double ReadUnusual(ReadOnlySpan<byte> span, FieldPlan field, long line, ref bool incomplete, ref bool away)
    {
        if (NumberField.TryReadWithUnit(span, plan.Numbers, out double value, out var unit) && unit.Kind == field.Kind)
        {
            return unit.Coherent(value);
        }

        // A value is not held beyond a row that says that there is none, in whatever word.
        bool blank = NumberField.IsBlank(span) || NumberField.IsMissingMark(span);
        bool isWord = !NumberField.IsBlank(span) && span.IndexOfAnyInRange((byte)'0', (byte)'9') < 0 && !NumberField.IsOverloadMark(span);
        if (field.Quantity is not (LogQuantity.Temperature or LogQuantity.Frequency)
            && (AwayWords.Is(span) || (Away.Held && isWord && !(blank && field.BlankIsNormal))))
        {
            away = true;
            return double.NaN;
        }

        if (blank && field.BlankIsNormal)
        {
            return double.NaN;
        }

        incomplete |= field.Quantity is not (LogQuantity.Temperature or LogQuantity.Frequency);
        string what = LogErrors.Quote(span);
        if (NumberField.IsOverloadMark(span))
        {
            tally.Add(FaultKind.Clipped, line,
                $"{what} in column {LogErrors.Quote(field.Header)} says that the meter's range was exceeded; such readings were left out.");
        }
        else
        {
            tally.Add(FaultKind.UnreadableField, line,
                $"{what} in column {LogErrors.Quote(field.Header)} is no number; such readings were left out.");
        }

        return double.NaN;
    }

    /// <summary>Counts a row that holds a time and no reading.</summary>
    /// <param name="line">Line number.</param>
    /// <param name="told">Whether a fault of one of its fields was counted already.</param>
    public void NoReading(long line, bool told)
    {
        Skipped++;
        if (told)
        {
            return;
        }

        tally.Add(FaultKind.UnreadableField, line, "Rows hold a time and no reading; they were left out.");
    }

    /// <summary>Counts a row kept of which an electrical reading could not be read.</summary>
    public void CountIncomplete() => Incomplete++;

    /// <summary>Settles what is still held back at the end of the log: it was text after the last row.</summary>
    public void Finish()
    {
        foreach (Pending row in _pending)
        {
            _trailers = _trailers.Plus(row.Line);
        }

        _pending.Clear();
    }

    private static string Count(int fields) => fields == 1 ? "A row with 1 field" : InvariantText.Of($"A row with {fields} fields");

    private void Leave(CsvReader row, long line, FaultKind kind, string detail)
    {
        if (StartsAsText(row) && _pending.Count < LongestTrailer)
        {
            _pending.Enqueue(new Pending(kind, line, detail));
            return;
        }

        Settle();
        Skipped++;
        tally.Add(kind, line, detail);
    }

    private void Settle()
    {
        while (_pending.TryDequeue(out Pending row))
        {
            Skipped++;
            tally.Add(row.Kind, row.Line, row.Detail);
        }
    }

    private bool PassesOver(CsvReader row, long line)
    {
        ReadOnlySpan<byte> raw = row.RawRecord.Trim(" \t\r\n"u8);
        if (raw.Trim(plan.Separator).Trim(" \t"u8).IsEmpty)
        {
            return true;
        }

        if (TextMarks.IsComment(raw, plan.Separator))
        {
            _comments = _comments.Plus(line);
            return true;
        }

        if (TextMarks.IsRule(Fields(row)))
        {
            _rules = _rules.Plus(line);
            return true;
        }

        if (plan.HeaderFields.Count > 1 && (RepeatsHeader(row) || TextMarks.IsUnitRow(Fields(row)) || TextMarks.IsTypeRow(Fields(row))))
        {
            _headers = _headers.Plus(line);
            return true;
        }

        if (row.FieldCount > 1 && !StartsAsReading(row) && HeaderWords.CountQuantities(Fields(row)) >= 2)
        {
            throw LogErrors.OtherHeader(tally.Path, line, Encoding.UTF8.GetString(raw));
        }

        return false;
    }

    private bool RepeatsHeader(CsvReader row)
    {
        int same = 0;
        for (int i = 0; i < Math.Min(row.FieldCount, plan.HeaderFields.Count); i++)
        {
            same += row.GetString(i).Trim().Equals(plan.HeaderFields[i], StringComparison.OrdinalIgnoreCase) ? 1 : 0;
        }

        return same == plan.HeaderFields.Count;
    }

    private static List<string> Fields(CsvReader row)
    {
        var fields = new List<string>();
        for (int i = 0; i < Math.Min(row.FieldCount, 64); i++)
        {
            fields.Add(row.GetString(i).Trim());
        }

        return fields;
    }

    private bool StartsAsReading(CsvReader row) =>
        plan.Time.Index >= 0 && plan.Time.Index < row.FieldCount
            && row.GetSpan(plan.Time.Index).IndexOfAnyInRange((byte)'0', (byte)'9') >= 0;

    private static bool StartsAsText(CsvReader row)
    {
        ReadOnlySpan<byte> first = row.GetSpan(0).TrimStart(" \t"u8);
        return first.IsEmpty || !(char.IsAsciiDigit((char)first[0]) || first[0] is (byte)'-' or (byte)'+' or (byte)'.');
    }

    private static string InWords(string what, FaultTally rows) => InvariantText.Of(
        $"{rows.Count} {(rows.Count == 1 ? what : what.Replace("line", "lines", StringComparison.Ordinal))} passed over, the first at "
            + $"line {rows.FirstLine}.");
}
