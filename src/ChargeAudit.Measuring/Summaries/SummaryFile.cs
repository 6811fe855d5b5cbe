using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ChargeAudit.Logs.Formats;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>A log's summary as a file: Apache Parquet, with cells as rows and the rest as metadata.</summary>
public static class SummaryFile
{
    /// <summary>How the names of such files end.</summary>
    public const string Ending = ".summary.parquet";

    // Numbers that are hashed at a time.
    private const int MostAtOnce = 512;

    /// <summary>The bytes of a summary's file.</summary>
    /// <param name="log">The log as it was read.</param>
    /// <param name="about">What the file says of itself.</param>
    public static byte[] Of(ReadLog log, SummaryAbout about)
    {
        var (told, document, rows) = PartsOf(log, about);
        using (rows)
        {
            return Of(told, document, rows);
        }
    }

    /// <summary>What a file holds: what it says of itself, what stands beside its rows, and its rows.</summary>
    internal static (string Told, string Document, SummaryRows Rows) PartsOf(ReadLog log, SummaryAbout about)
    {
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(about);
        var state = log.Summary.State();
        var (told, document) = Texts(new SummaryDocument
        {
            Layout = log.Own,
            Resolution = log.Resolution,
            Source = log.Source,
            Outcomes = log.Outcomes,
            State = state,
        }, about);
        return (told, document, SummaryTables.Rows(state));
    }

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
        using var rows = SummaryTables.Rows(part.State);
        return Of(told, document, rows);
    }

    /// <summary>The bytes of a file that holds these parts.</summary>
    internal static byte[] Of(string told, string document, SummaryRows rows) =>
        SummaryParquet.Write(rows, new Dictionary<string, string>
        {
            [ParquetMarks.SummaryKey] = told,
            [ParquetMarks.StateKey] = document,
            [ParquetMarks.DigestKey] = DigestOf(told, document, rows),
        });

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
    public static ReadLog Read(string path) => Read(path, (about, stored, state) => stored.Part is { Range: { } part }
            ? throw new InputException(InputProblem.Unusable, InvariantText.Of(
                $"{path} is the summary of part {part.Number} of {part.Count} of a log, and one of a whole log was expected; summarize the "
                    + $"other parts too, join them, and give the summary that this makes"))
            : new ReadLog(stored.Layout, stored.Resolution, stored.Source, LogSummary.Of(state), stored.Outcomes) { From = about });

    /// <summary>Reads the summary of a part.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InputException">It is damaged, cut off, of another schema, or of a whole log.</exception>
    internal static ReadPart ReadPart(string path) => Read(path, (about, stored, state) => stored.Part is { } part
            ? new ReadPart(stored.Layout, stored.Resolution, state, part) { From = about }
            : throw new InputException(InputProblem.Unusable, $"{path} is the summary of a whole log, though its name says of a part"));

    private static T Read<T>(string path, Func<SummaryAbout, SummaryDocument, SummaryState, T> make)
    {
        try
        {
            using var file = File.OpenRead(path);
            var (metadata, read) = SummaryParquet.Read(path, file);
            using var rows = read;
            string told = metadata.GetValueOrDefault(ParquetMarks.SummaryKey, "");
            string document = metadata.GetValueOrDefault(ParquetMarks.StateKey, "");
            int schema = SchemaOf(told);
            if (schema != SummaryAbout.CurrentSchema)
            {
                throw new InputException(InputProblem.Unusable, InvariantText.Of(
                    $"{path} is a summary of schema {schema}, and schema {SummaryAbout.CurrentSchema} was expected; summarize the log "
                        + $"again with this version"));
            }

            if (metadata.GetValueOrDefault(ParquetMarks.DigestKey) != DigestOf(told, document, rows))
            {
                throw new InvalidDataException("its parts do not have the digest that it states");
            }

            var about = JsonSerializer.Deserialize(told, SummaryContext.Default.SummaryAbout)!;
            var stored = JsonSerializer.Deserialize(document, SummaryContext.Default.SummaryDocument)!;
            SummaryBounds.Check(stored, about);
            return make(about, stored, SummaryTables.In(stored.State, rows));
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

    private static int SchemaOf(string told)
    {
        using var document = JsonDocument.Parse(told);
        return document.RootElement.TryGetProperty("schema", out var schema) && schema.TryGetInt32(out int number)
            ? number
            : throw new InvalidDataException("it states no schema");
    }

    // Of what was written, not of how: a file that another program has packed anew holds the same.
    private static string DigestOf(string told, string document, SummaryRows rows)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (string text in (string[])[told, document, .. rows.Kinds])
        {
            hash.AppendData(Encoding.UTF8.GetBytes(text));
            hash.AppendData([0]);
        }

        hash.AppendData(System.Runtime.InteropServices.MemoryMarshal.AsBytes(rows.Readings.AsSpan()));
        hash.AppendData(System.Runtime.InteropServices.MemoryMarshal.AsBytes(rows.Marks.AsSpan()));
        Span<double> plain = stackalloc double[MostAtOnce];
        for (int c = 0; c < rows.Columns; c++)
        {
            for (ReadOnlySpan<double?> rest = rows.Column(c).Span; rest.Length > 0;)
            {
                int some = Math.Min(rest.Length, MostAtOnce);
                for (int i = 0; i < some; i++)
                {
                    // What is not there has bits that no number has.
                    plain[i] = rest[i] ?? BitConverter.Int64BitsToDouble(-1);
                }

                hash.AppendData(System.Runtime.InteropServices.MemoryMarshal.AsBytes(plain[..some]));
                rest = rest[some..];
            }
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }
}
