using System.Globalization;
using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs;

/// <summary>All sentences with which a log is refused. Each names the file, what was found, what was expected and what to do.</summary>
internal static class LogErrors
{
    private const int LongestQuote = 60;

    public static InputException Missing(string path) =>
        new(InputProblem.Missing, $"{path}: there is no such file; check the name and the folder.");

    public static InputException IsDirectory(string path) =>
        new(InputProblem.Missing, $"{path} is a folder, and a log file was expected; name the files in it.");

    public static InputException Unreadable(string path, Exception reason) =>
        new(InputProblem.Missing, $"{path} cannot be read ({Plain(reason.Message)}); check that you may open it.", reason);

    public static InputException NoStandardInput() =>
        new(InputProblem.Usage, "A log was expected on standard input, and none is connected; pipe one in, or name a file.");

    public static InputException Empty(string path) =>
        new(InputProblem.Unusable, $"{path} is empty; a log with a header and rows of readings was expected.");

    public static InputException ArrowFile(string path) =>
        new(InputProblem.Unusable,
            $"{path} is an Arrow IPC file (Feather), which is not read; write the same table as Parquet or CSV and name that file.");

    public static InputException Binary(string path) =>
        new(InputProblem.Unusable,
            $"{path} is not a text table: it holds bytes that no text has; export the log as CSV and name that file.");

    public static InputException Corrupt(string path, string format, Exception reason) =>
        new(InputProblem.Unusable,
            $"{path} begins as {format} but cannot be {(format is "JSON" or "SQLite" ? "read" : "unpacked")} ({Plain(reason.Message)}); "
            + "copy or export it again.",
            reason);

    public static InputException Bomb(string path) =>
        new(InputProblem.Unusable,
            $"{path} unpacks to more than 500 times its size, which no log does; unpack it yourself and check what it holds.");

    public static InputException WrongMetadata(string path, Exception reason) =>
        new(InputProblem.Unusable,
            $"{path} stands beside a log and is no valid table metadata ({Plain(reason.Message)}); correct it or remove it.", reason);

    public static InputException DamagedXml(string path, int line, Exception reason) =>
        new(InputProblem.Unusable,
            $"{path}, line {N(line)}: the XML is damaged, or holds a document type or entities, which no log needs; export it again.",
            reason);

    public static InputException WrongElement(string path, int line, string element, string found, long greatest) =>
        new(InputProblem.Unusable,
            $"{path}, line {N(line)}: the element {element} holds {Quote(found)}, and a whole number was expected, of at most "
            + $"{N(greatest)}; export the file again.");

    public static InputException MarkupTooLarge(string path, string what, long limit, string of) =>
        new(InputProblem.Unusable,
            $"{path} holds {what} {N(limit)} {of}, which no log needs; export it again, or as CSV, and name that file.");

    public static InputException NotInOrder(string path, int limit) =>
        new(InputProblem.Unusable,
            $"{path} holds more than {N(limit)} readings that do not stand in the order of time; export them in that order, or in "
            + "shorter files.");

    public static InputException NoEnd(string path, string format, double limitS) =>
        new(InputProblem.Unusable,
            $"{path} begins as {format}, and nothing came out of it for {N((long)limitS)} s; the file is damaged or made to mislead: "
            + "export it again, or as CSV.");

    public static InputException GroupTooLarge(string path, long rows, long limitBytes) =>
        new(InputProblem.Unusable,
            $"{path} holds {N(rows)} rows in one group, which unpacked would take more than {N(limitBytes >> 20)} MB at once; write it "
            + "with smaller row groups (a million rows or fewer), or as CSV.");

    public static InputException TooManyReadings(string path, int limit) =>
        new(InputProblem.Unusable,
            $"{path} claims more than {N(limit)} readings at once, which no log needs; split it into shorter files.");

    public static InputException SheetTooLarge(string path, string what, long limit) =>
        new(InputProblem.Unusable,
            $"{path} holds a sheet with more than {N(limit)} {what}, which no log needs; export the rows of readings as CSV and name "
            + "that file.");

    public static InputException NotCopied(string path, Exception reason) =>
        new(InputProblem.CannotWrite,
            $"{(path == "-" ? "standard input" : path)} can be read only once and could not be copied to a temporary file "
            + $"({Plain(reason.Message)}); write it to a file yourself and name that.", reason);

    public static InputException PipedTooLong(string path, long limitBytes) =>
        new(InputProblem.Unusable,
            $"{(path == "-" ? "standard input" : path)} gave more than {N(limitBytes >> 20)} MB of a format that cannot be read before its "
            + "end; write it to a file and name that.");

    public static InputException NoEspiReadings(string path) =>
        new(InputProblem.Unusable,
            $"{path} is XML but holds no IntervalReading of the namespace http://naesb.org/espi; export the meter's interval data, or name "
            + "another file.");

    public static InputException NoEspiUnit(string path) =>
        new(InputProblem.Unusable,
            $"{path} holds interval data of no unit that gives energy; readings in Wh (72), J (31) or W (38) were expected.");

    public static InputException LineTooLong(string path, long line, int limitBytes) =>
        new(InputProblem.Unusable,
            $"{path}, line {N(line)} is longer than {N(limitBytes)} bytes, and a row of readings was expected; check that the file "
            + "is a log.");

    public static InputException TooManyColumns(string path, long line, int found, int limit) =>
        new(InputProblem.Unusable,
            $"{path}, line {N(line)} holds {N(found)} fields, and at most {N(limit)} were expected; check that the file is a log.");

    public static InputException NoTable(string path) =>
        new(InputProblem.Unusable,
            $"{path} holds no rows of readings that could be split into columns; a header and rows of numbers, separated by commas, "
            + "semicolons, tabs, | or blanks, were expected.");

    public static InputException SummaryIsNoLog(string path) =>
        new(InputProblem.Unusable,
            $"{path} is the summary of a log, and a log was expected here; give the log itself, or let the summary be measured or audited "
            + "as a file on its own.");

    public static InputException NoTime(string path, string columns, ColumnsHint hint) =>
        hint.Option is null || hint.HasTime
            ? Repaired(hint,
                $"{path} has no time column among {columns}; {hint.Sentence}; or give the fixed interval between rows as interval at the "
                + "meter in the study.")
            : new(InputProblem.Unusable,
                $"{path} has no time column among {columns}; give the fixed interval between rows, in seconds, as interval at the meter in "
                + "the study, or export the times as well.")
            { Remedy = Remedy.Interval };

    public static InputException TimeNotUnderstood(string path, string column, string sample) =>
        new(InputProblem.Unusable,
            $"{path}: the time column {Quote(column)} holds {Quote(sample)}, which is no date, clock time or number; name another column "
            + "with columns at the meter in the study, or export times as 2031-05-07T18:30:00.")
        { Remedy = Remedy.Columns };

    public static InputException NoQuantity(string path, string columns, ColumnsHint hint) =>
        Repaired(hint,
            $"{path} has no column of power, voltage and current, or an energy or charge counter among {columns}; {hint.Sentence}.");

    public static InputException NoHeader(string path, int columns, ColumnsHint hint) =>
        Repaired(hint, $"{path} has {N(columns)} columns and no header that names them; {hint.Sentence}.");

    public static InputException NoSuchColumn(string path, string wanted, string columns, ColumnsHint hint) =>
        Repaired(hint, $"{path} has no column {wanted}; it has {columns}; {hint.Sentence}.");

    public static InputException UnknownUnit(string path, string column, string unit) =>
        new(InputProblem.Unusable,
            $"{path}: the unit {Quote(unit)} of column {Quote(column)} is not known; use a symbol such as V, mA, W, Wh or mAh.")
        {
            Remedy =
            Remedy.Columns
        };

    public static InputException WrongUnit(string path, string column, string unit, string quantity) =>
        new(InputProblem.Unusable,
            $"{path}: column {Quote(column)} was given as {quantity} in {unit}, which is no unit of {quantity}; name the quantity that "
                + $"the column holds, or its unit.")
        { Remedy = Remedy.Columns };

    public static InputException IntervalBesideTimes(string path, string column, double intervalS) =>
        new(InputProblem.Unusable,
            $"{path}: column {Quote(column)} holds times, and {S(intervalS)} s between rows are stated as well; leave the interval "
                + $"out, or name the columns without the times.")
        { Remedy = Remedy.Columns };

    public static InputException AmbiguousDate(string path, string sample) =>
        new(InputProblem.Unusable,
            $"{path}: {Quote(sample)} may be day first or month first, and no date in the file tells which; say which: date-order is "
            + "day-first or month-first, here or in the study.")
        { Remedy = Remedy.DateOrder };

    public static InputException UnknownZone(string path, string zone) =>
        new(InputProblem.Unusable,
            $"{path}: the time zone {Quote(zone)} is not known; use a name such as Europe/Lisbon or UTC as timezone at the meter in "
            + "the study.")
        { Remedy = Remedy.TimeZone };

    public static InputException JsonTooLarge(string path, string what) =>
        new(InputProblem.Unusable, $"{path} is JSON and holds {what}, which no log needs; export its readings as CSV and name that file.");

    public static InputException NoJsonRecords(string path) =>
        new(InputProblem.Unusable,
            $"{path} is JSON but holds no records of readings; an array such as [{{\"time\": 0, \"power_W\": 4.5}}, …] or one such record "
            + "in each line was expected.");

    public static InputException NoSqliteTable(string path, string[] names, int tables) =>
        new(InputProblem.Unusable,
            $"{path} is an SQLite database with "
            + $"{(tables > 1 ? $"{N(tables)} tables of readings" : "no table of readings that could be told")} ({List(names)}), and one "
            + "was expected; export the one that is meant as CSV and name that file.");

    public static InputException SqliteInUse(string path) =>
        new(InputProblem.Unusable,
            $"{path} is an SQLite database of which rows still stand in a journal beside it; close the program that writes it, or copy the "
            + "database with its backup command, and name the copy.");

    public static InputException TooManyMembers(string path, int limit) =>
        new(InputProblem.Unusable, $"{path} is an archive of more than {N(limit)} files; unpack it and name the log.");

    public static InputException NoMember(string path, string[] names, int logs) =>
        new(InputProblem.Unusable,
            $"{path} is an archive that holds {(logs > 1 ? $"{N(logs)} logs" : "no log that could be told")} ({List(names)}), and one was "
            + "expected; unpack it and name the files.");

    public static InputException LockedMember(string path, string name) =>
        new(InputProblem.Unusable, $"{path}: {Quote(name)} in the archive is locked by a password; unpack it yourself and name that file.");

    public static InputException IntervalsDiffer(string path, string what, double oneS, double otherS) =>
        new(InputProblem.Unusable,
            $"{path} holds {what} of intervals of different lengths ({S(oneS)} s and {S(otherS)} s), and one length was expected; split "
            + "it into files of one length each.");

    public static InputException NoSuchSeries(string path, string wanted, string[] names) =>
        new(InputProblem.Unusable,
            $"{path} holds no series whose name has {Quote(wanted)} in it; it holds {List(names)}.")
        { Remedy = Remedy.Series };

    public static InputException NoSeries(string path, string wanted) =>
        new(InputProblem.Unusable,
            $"{path} holds one series in its rows as far as its columns tell, and series = {Quote(wanted)} was stated for it; leave that "
                + "out, or cut the table to the rows of that name.");

    public static InputException MoreFields(string path, int names, int fields, string separator) =>
        new(InputProblem.Unusable,
            $"{path}: its header names {N(names)} columns and its rows have {N(fields)} fields, separated by {separator}; numbers with "
                + "decimal commas look like that. Write them with a decimal point, or put semicolons between the fields.");

    public static InputException ClockNumbers(string path, string column, string sample, int position) =>
        new(InputProblem.Unusable,
            $"{path}: column {Quote(column)} stands beside dates and holds {Quote(sample)}, which may be a time of day; write such times "
                + $"as 18:30:00, or say that they are elapsed times with their unit, as in columns = {{ time = {{ position = "
                + $"{N(position)}, unit = \"s\" }} }} at the meter in the study.")
        { Remedy = Remedy.Columns };

    public static InputException Phases(string path, string columns, ColumnsHint hint) =>
        Repaired(hint,
            $"{path} holds several phases, {columns}, and their sum was expected in one column; export the sum, or, where one phase "
                + $"supplies the charger, {hint.Sentence}.");

    public static InputException PartsOfTime(string path, string columns) =>
        new(InputProblem.Unusable,
            $"{path} holds parts of one time in the columns {columns}; write them in one column, as 18:30:00 or 2031-05-07T18:30:00.");

    public static InputException SeveralSeries(string path, string quantity, string[] names) =>
        new(InputProblem.Unusable,
            $"{path} holds {N(names.Length)} series of {quantity}, {List(names)}, which must not be mixed; say which is meant with series "
            + $"= {Quote(names[0])} at the meter in the study.")
        { Remedy = Remedy.Series, RemedyValue = $"'{names[0]}'" };

    public static InputException SeveralDevices(string path, string header, string[] names) =>
        new(InputProblem.Unusable,
            $"{path} holds rows of {N(names.Length)} devices by its column {Quote(header)}, {List(names)}, which must not be mixed; say "
            + $"which is meant with series = {Quote(names[0])} at the meter in the study.")
        { Remedy = Remedy.Series, RemedyValue = $"'{names[0]}'" };

    public static InputException SeriesApart(string path, string[] names) =>
        new(InputProblem.Unusable,
            $"{path} holds {List(names)} in rows of different times, from which no power follows; sort it by time, or export power.");

    public static InputException NoRows(string path) =>
        new(InputProblem.Unusable,
            $"{path} holds no rows of readings below its header; rows of numbers were expected there, so check that the log was exported "
                + $"whole.");

    public static InputException TooManyBadRows(string path, long bad, long rows, double limit, Fault worst) =>
        new(InputProblem.Unusable,
            $"{path}: {N(bad)} of {N(rows)} rows cannot be used, more than the {P(limit)} allowed (line {N(worst.FirstLine)}: "
                + $"{worst.Detail.TrimEnd('.')}); "
                + (worst.Kind == FaultKind.TimeBackwards ? "sort its rows by time." : "correct the log, or export it again."));

    public static InputException StuckClock(string path, long line, int rows) =>
        new(InputProblem.Unusable,
            $"{path}, line {N(line)}: more than {N(rows)} rows carry one and the same time, and times that go on were expected; the clock "
            + "of the meter stood still.");

    public static InputException OtherHeader(string path, long line, string found) =>
        new(InputProblem.Unusable,
            $"{path}, line {N(line)}: a header with other columns follows ({Quote(found)}), and one table with the same columns was "
            + "expected; split the file there.");

    public static InputException OtherColumns(string path, string first) =>
        new(InputProblem.Unusable,
            $"{path} does not hold the same quantities as {first}; files that follow one another must have the same columns.");

    public static InputException NoParts(string path, string why) =>
        new(InputProblem.Unusable, $"{path} cannot be summed in parts: {why}; summarize it whole.");

    public static InputException NoCut(string path, int at, int count) =>
        new(InputProblem.Unusable, InvariantText.Of(
            $"{path} cannot be cut into {count} parts: about cut {at} there is no place where plain rows follow one another in rising "
                + $"time; "
                + $"use fewer parts, or summarize it whole."));

    public static InputException Changed(string path) =>
        new(InputProblem.Unusable, $"{path} was changed while it was read; wait until the meter has finished writing it and start again.");

    public static InputException Ambiguous(string path, string note) =>
        new(InputProblem.Unusable,
            $"{path}: {note.TrimEnd('.')}, and under strict reading nothing is guessed; name the columns and units with columns at the "
            + "meter in the study.")
        { Remedy = Remedy.Columns };

    public static InputException StrictFault(string path, Fault fault) =>
        new(InputProblem.Unusable,
            $"{path}, line {N(fault.FirstLine)}: {fault.Detail.TrimEnd('.')} ({KebabCase(fault.Kind)}), and under strict reading the "
                + $"first fault refuses the log; correct the row, or read without strict.");

    /// <summary>Raw text for a message: cut to a length, control characters escaped, in quotation marks.</summary>
    public static string Quote(string raw) => $"\"{Plain(raw)}\"";

    /// <summary>Raw bytes for a message.</summary>
    public static string Quote(ReadOnlySpan<byte> raw) => Quote(Encoding.UTF8.GetString(raw[..Math.Min(raw.Length, 4 * LongestQuote)]));

    /// <summary>Header names for a message.</summary>
    public static string List(IEnumerable<string> headers)
    {
        string[] names = [.. headers.Take(13).Select(Quote)];
        return names.Length > 12 ? string.Join(", ", names[..12]) + " …" : string.Join(", ", names);
    }

    /// <summary>The word of a member of an enum, such as a fault kind, in sentences.</summary>
    public static string KebabCase(Enum kind) =>
        string.Concat(kind.ToString().Select((c, i) => char.IsUpper(c) ? (i == 0 ? "" : "-") + char.ToLowerInvariant(c) : c.ToString()));

    private static string Plain(string raw)
    {
        var text = new StringBuilder();
        foreach (char c in raw.Trim())
        {
            if (text.Length >= LongestQuote)
            {
                return text.Append('…').ToString();
            }

            _ = c switch
            {
                '\t' => text.Append("\\t"),
                '\n' => text.Append("\\n"),
                '\r' => text.Append("\\r"),
                _ when char.IsControl(c) || c is '\u2028' or '\u2029' or (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069') =>
                    text.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:X4}"),
                _ => text.Append(c),
            };
        }

        return text.ToString();
    }

    private static InputException Repaired(ColumnsHint hint, string sentence) =>
        new(InputProblem.Unusable, sentence) { Remedy = hint.Option is null ? Remedy.None : Remedy.Columns, RemedyValue = hint.Option };

    private static string N(long number) => number.ToString(CultureInfo.InvariantCulture);

    private static string S(double seconds) => WrittenMarks.Number(seconds.ToString("0.###", CultureInfo.InvariantCulture));

    private static string P(double share) => WrittenMarks.Number((share * 100).ToString("0.##", CultureInfo.InvariantCulture)) + " %";
}
