using System.Globalization;
using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;
using CsvHelper;
using NodaTime;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>Prices or emission factors read from a CSV: a time and a value in each row, each value holding until the next row's
/// time.</summary>
public sealed class HourlyValues
{
    private const double MaxMissingShare = 0.05;

    private HourlyValues(WeekValues week, long rows, double coveredH, double missingH, IReadOnlyList<string> notes) =>
        (Week, Rows, CoveredH, MissingH, Notes) = (week, rows, coveredH, missingH, notes);

    /// <summary>The values by quarter of the local week, per kWh.</summary>
    public WeekValues Week { get; }

    /// <summary>Rows that hold a value.</summary>
    public long Rows { get; }

    /// <summary>Time for which there is a value. [h]</summary>
    public double CoveredH { get; }

    /// <summary>Time between the first and the last row for which there is none. [h]</summary>
    public double MissingH { get; }

    /// <summary>What was assumed in using the file, as sentences.</summary>
    public IReadOnlyList<string> Notes { get; }

    /// <summary>Reads a file.</summary>
    /// <param name="path">Path to open.</param>
    /// <param name="file">The file as the study names it, and its unit.</param>
    /// <param name="timeZone">IANA name of the zone of local times and of the week; null: UTC, unless a time has no offset.</param>
    /// <exception cref="InputException">The file is missing, or a row cannot be used; the message names the line.</exception>
    public static HourlyValues Read(string path, PriceFile file, string? timeZone)
    {
        try
        {
            using var stream = File.OpenRead(path);
            return Read(stream, file, timeZone);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.Missing, $"{file.File}: the price file cannot be read: {e.Message}", e);
        }
    }

    /// <summary>Reads a stream.</summary>
    /// <param name="stream">The bytes of the CSV.</param>
    /// <param name="file">The file as the study names it, and its unit.</param>
    /// <param name="timeZone">IANA name of the zone of local times and of the week; null: UTC, unless a time has no offset.</param>
    /// <exception cref="InputException">A row cannot be used; the message names the line.</exception>
    public static HourlyValues Read(Stream stream, PriceFile file, string? timeZone)
    {
        var zone = timeZone is null ? null : LocalCalendar.Zone(timeZone, "[tariff] timezone");
        return Sum(ReadRows(stream, file, zone), file, zone ?? DateTimeZone.Utc);
    }

    private static List<(DateTime Utc, double Value, long Line)> ReadRows(Stream stream, PriceFile file, DateTimeZone? zone)
    {
        var numbers = (NumberFormatInfo)CultureInfo.InvariantCulture.NumberFormat.Clone();
        numbers.NumberGroupSeparator = string.Empty;
        char separator = ',';
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        var content = bytes.GetBuffer().AsSpan(0, (int)bytes.Length);
        int lineEnd = content.IndexOf((byte)'\n');
        if ((lineEnd < 0 ? content : content[..lineEnd]).Contains((byte)';'))
        {
            // With semicolons between the fields a comma is a decimal comma; neither column is text that could hold another one.
            separator = ';';
            content.Replace((byte)',', (byte)'.');
        }

        bytes.Position = 0;
        using var csv = CsvReader.Create(
            bytes,
            new CsvReaderOptions
            {
                Separator = separator,
                FormatProvider = numbers,
                TrackLineNumbers = true,
                AllowLineBreaksInQuotes = false,
                Encoding = Encoding.UTF8,
            },
            leaveOpen: true);
        var rows = new List<(DateTime Utc, double Value, long Line)>();
        double factor = file.Unit == PriceUnit.PerMwh ? 1e-3 : 1;
        while (csv.Read())
        {
            long line = csv.LineNumber;
            string time = csv.FieldCount > 0 ? csv.GetString(0).Trim() : string.Empty;
            if (csv.FieldCount != 2)
            {
                throw Bad(file, line, $"has {csv.FieldCount} fields",
                    "two: a time and a value, either with a comma between them and a decimal point, or with a semicolon and a "
                    + "decimal comma");
            }

            if (!csv.TryParse(1, out double value) || !double.IsFinite(value))
            {
                throw Bad(file, line, $"holds '{Cut(csv.GetString(1))}' as the value", "a number");
            }

            DateTime? before = rows.Count == 0 ? null : rows[^1].Utc;
            var utc = HourlyTimes.Parse(time, zone, before, wanted => Bad(file, line, $"holds '{Cut(time)}' as the time", wanted));
            if (before is { } b && utc <= b)
            {
                throw Bad(file, line, $"holds the time '{Cut(time)}', which is not after that of the row above",
                    "rows in order of time, each time once");
            }

            if (utc.Ticks % TimeSpan.FromMinutes(15).Ticks != 0)
            {
                throw Bad(file, line, $"holds the time '{Cut(time)}'", "times on a quarter of an hour");
            }

            rows.Add((utc, value * factor, line));
        }

        return rows.Count >= 24
            ? rows
            : throw new InputException(InputProblem.Unusable,
                $"{file.File} holds {rows.Count} rows with a value, expected at least 24: give the prices of a year, or of a whole month "
                + "at least");
    }

    private static HourlyValues Sum(List<(DateTime Utc, double Value, long Line)> rows, PriceFile file, DateTimeZone zone)
    {
        double step = rows.Zip(rows.Skip(1), (a, b) => (b.Utc - a.Utc).TotalMinutes).GroupBy(m => m).MaxBy(g => g.Count())!.Key;
        if (step > 60)
        {
            throw new InputException(InputProblem.Unusable,
                $"{file.File} holds a row every {step.ToString(CultureInfo.InvariantCulture)} min, expected one an hour or more often");
        }

        var week = new WeekValues();
        int missing = 0;
        int taken = 0;
        for (int i = 0; i < rows.Count; i++)
        {
            int quarters = i + 1 < rows.Count ? (int)((rows[i + 1].Utc - rows[i].Utc).TotalMinutes / 15) : (int)(step / 15);
            int held = Math.Min(quarters, (int)(step / 15));
            missing += quarters - held;
            taken += held;
            for (int q = 0; q < held; q++)
            {
                var at = rows[i].Utc.AddMinutes(15 * q);
                week.Add(LocalCalendar.At(at, zone).OfWeek, rows[i].Value);
            }
        }

        if (missing > MaxMissingShare * (missing + taken))
        {
            throw new InputException(
                InputProblem.Unusable,
                Prose.Of(
                    $"{file.File} has no value for {missing / 4.0:0.##} h of the {(missing + taken) / 4.0:0.##} h that it spans, expected "
                    + $"at most 5 % missing: fill in the missing rows"));
        }

        return new HourlyValues(week, rows.Count, taken / 4.0, missing / 4.0, NotesOf(file, rows, taken, missing));
    }

    private static List<string> NotesOf(PriceFile file, List<(DateTime Utc, double Value, long Line)> rows, int taken, int missing)
    {
        var notes = new List<string>
        {
            Prose.Of(
                $"{file.File}: {rows.Count} values from {rows[0].Utc:yyyy-MM-dd} to {rows[^1].Utc:yyyy-MM-dd} (UTC) stand for the year"),
        };
        if (taken < 360 * 96)
        {
            notes.Add(
                Prose.Of($"{file.File} covers {taken / 96.0:0.#} days, not a year: the other seasons are taken to be like them"));
        }

        if (missing > 0)
        {
            notes.Add(Prose.Of($"{file.File} has no value for {missing / 4.0:0.##} h, which are left out of the mean"));
        }

        return notes;
    }

    private static string Cut(string text)
    {
        string shown = string.Concat(text.Take(40).Select(c => char.IsControl(c) ? '?' : c));
        return text.Length > 40 ? shown + "…" : shown;
    }

    private static InputException Bad(PriceFile file, long line, string found, string expected) =>
        new(InputProblem.Unusable, InvariantText.Of($"{file.File} line {line} {found}, expected {expected}"));
}
