using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ChargeAudit.Logs.Formats;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>A log's summary as a file: Apache Parquet, with a table of cells, or of the log's rows where they
/// take less room, and the rest as metadata.</summary>
public static class SummaryFile
{
    /// <summary>How the names of such files end.</summary>
    public const string Ending = ".summary.parquet";

    // Up to so many rows a cell, rows take less room than cells for certain.
    private const int SureRows = 2;

    /// <summary>The bytes of a summary's file.</summary>
    /// <param name="log">The log as it was read.</param>
    /// <param name="about">What the file says of itself.</param>
    public static byte[] Of(ReadLog log, SummaryAbout about)
    {
        var (told, document, table) = PartsOf(log, about);
        byte[] bytes = Of(told, document, table);
        if (table is not RowTable || log.Rows!.Count <= SureRows * (long)log.Summary.Envelope.Count)
        {
            return bytes;
        }

        (told, document, table) = InCells(log, about);
        byte[] ofCells = Of(told, document, table);
        return ofCells.Length < bytes.Length ? ofCells : bytes;
    }

    /// <summary>What a file holds: what it says of itself, what stands beside its table, and its table.</summary>
    internal static (string Told, string Document, SummaryTable Table) PartsOf(ReadLog log, SummaryAbout about)
    {
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(about);
        return InRows(log, about) ?? InCells(log, about);
    }

    private static (string Told, string Document, SummaryTable Table) InCells(ReadLog log, SummaryAbout about)
    {
        var document = DocumentOf(log);
        var (told, text) = Texts(document, about);
        return (told, text, SummaryTables.Cells(document.State));
    }

    // The rows in place of the cells, where they were kept and bring the same bits back.
    private static (string Told, string Document, SummaryTable Table)? InRows(ReadLog log, SummaryAbout about)
    {
        if (log.Rows is not { } rows || RowTable.Of(rows, log.Own) is not { } table)
        {
            return null;
        }

        var document = DocumentOf(log);
        var state = document.State;
        if (!SummaryTables.Same(state, LogSummary.Of(state, table.Rows(state.Rules)).State()))
        {
            return null;
        }

        // What may be long and follows from the rows is left out.
        var (told, text) = Texts(document with
        {
            Rows = table.Columns,
            State = state with { Gaps = GapTally.Empty, Counter = null },
        }, about);
        return (told, text, table);
    }

    private static SummaryDocument DocumentOf(ReadLog log) => new()
    {
        Layout = log.Own,
        Resolution = log.Resolution,
        Source = log.Source,
        Outcomes = log.Outcomes,
        State = log.Summary.State(),
    };

    /// <summary>The bytes of the file of a part.</summary>
    /// <param name="part">The part as it was read.</param>
    /// <param name="about">What the file says of itself.</param>
    internal static byte[] Of(ReadPart part, SummaryAbout about)
    {
        var (told, document) = Texts(new SummaryDocument
        {
            Layout = part.Own,
            Resolution = part.Resolution,
            Source = part.State.Rules.Source,
            Outcomes = [part.Part.Counts.Outcome],
            State = part.State,
            Part = part.Part,
        }, about);
        return Of(told, document, SummaryTables.Cells(part.State));
    }

    /// <summary>The bytes of a file that holds these parts; the table is given back.</summary>
    internal static byte[] Of(string told, string document, SummaryTable table)
    {
        using (table)
        {
            return SummaryParquet.Write(table, new Dictionary<string, string>
            {
                [ParquetMarks.SummaryKey] = told,
                [ParquetMarks.StateKey] = SummaryText.Packed(document),
                [ParquetMarks.DigestKey] = DigestOf(told, document, table),
            });
        }
    }

    /// <summary>Whether a file is a summary; nothing but its head and its end is looked at.</summary>
    /// <param name="path">The file.</param>
    public static bool IsSummary(string path)
    {
        if (!File.Exists(path))
        {
            return false;
        }

        try
        {
            using var file = File.OpenRead(path);
            return SummaryParquet.HasKey(path, file, ParquetMarks.SummaryKey);
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            // Whatever it is, it is no summary that can be used; reading it as a log says what is wrong.
            return false;
        }
    }

    /// <summary>Reads a summary.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InputException">It is damaged, cut off, or of another schema.</exception>
    public static ReadLog Read(string path) => Read(path, (about, stored, table) => stored.Part is { Range: { } part }
            ? throw new InputException(InputProblem.Unusable, InvariantText.Of(
                $"{path} is the summary of part {part.Number} of {part.Count} of a log, and one of a whole log was expected; summarize the "
                    + $"other parts too, join them, and give the summary that this makes"))
            : new ReadLog(stored.Layout, stored.Resolution, stored.Source, SummaryTables.Summary(stored.State, table), stored.Outcomes)
            {
                From = about,
            });

    /// <summary>Reads the summary of a part.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InputException">It is damaged, cut off, of another schema, or of a whole log.</exception>
    internal static ReadPart ReadPart(string path) => Read(path, (about, stored, table) => stored.Part is { } part
            ? new ReadPart(stored.Layout, stored.Resolution, SummaryTables.In(stored.State, table), part) { From = about }
            : throw new InputException(InputProblem.Unusable, $"{path} is the summary of a whole log, though its name says of a part"));

    private static T Read<T>(string path, Func<SummaryAbout, SummaryDocument, SummaryTable, T> make)
    {
        try
        {
            using var file = File.OpenRead(path);
            string told = "", document = "", digest = "";
            SummaryDocument? stored = null;
            using var table = SummaryParquet.Read(path, file, (metadata, rows) =>
            {
                told = metadata.GetValueOrDefault(ParquetMarks.SummaryKey, "");
                CheckSchema(path, told);
                document = SummaryText.Unpacked(metadata.GetValueOrDefault(ParquetMarks.StateKey, ""));
                digest = metadata.GetValueOrDefault(ParquetMarks.DigestKey, "");
                stored = JsonSerializer.Deserialize(document, SummaryContext.Default.SummaryDocument)!;
                return SummaryTables.Empty(stored, rows);
            });
            if (digest != DigestOf(told, document, table))
            {
                throw new InvalidDataException("its parts do not have the digest that it states");
            }

            var about = JsonSerializer.Deserialize(told, SummaryContext.Default.SummaryAbout)!;
            SummaryBounds.Check(stored!, about);
            return make(about, stored!, table);
        }
        catch (Exception e) when (e is not (InputException or OperationCanceledException or OutOfMemoryException))
        {
            throw new InputException(InputProblem.Unusable,
                $"{path} is no whole summary of a log ({e.Message.TrimEnd('.')}), so nothing of it is used; remove it and summarize the "
                    + "log again", e);
        }
    }

    private static (string Told, string Document) Texts(SummaryDocument document, SummaryAbout about) => (
        WrittenMarks.ExactJson(JsonSerializer.Serialize(about, SummaryContext.Default.SummaryAbout)),
        WrittenMarks.ExactJson(JsonSerializer.Serialize(document, SummaryContext.Default.SummaryDocument)));

    private static void CheckSchema(string path, string told)
    {
        int schema = SchemaOf(told);
        if (schema != SummaryAbout.CurrentSchema)
        {
            throw new InputException(InputProblem.Unusable, InvariantText.Of(
                $"{path} is a summary of schema {schema}, and schema {SummaryAbout.CurrentSchema} was expected; summarize the log "
                    + $"again with this version"));
        }
    }

    private static int SchemaOf(string told)
    {
        using var document = JsonDocument.Parse(told);
        return document.RootElement.TryGetProperty("schema", out var schema) && schema.TryGetInt32(out int number)
            ? number
            : throw new InvalidDataException("it states no schema");
    }

    // Of what was written, not of how: a file that another program has packed anew holds the same.
    private static string DigestOf(string told, string document, SummaryTable table)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (string text in (string[])[told, document])
        {
            hash.AppendData(Encoding.UTF8.GetBytes(text));
            hash.AppendData([0]);
        }

        table.AddTo(hash);
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
