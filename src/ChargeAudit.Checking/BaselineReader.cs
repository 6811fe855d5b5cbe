using System.Text;
using System.Text.Json;
using ChargeAudit.Checking.Documents;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Checking;

/// <summary>Reads the <c>results.json</c> of an earlier audit. Anything else is refused with one sentence.</summary>
public static class BaselineReader
{
    /// <summary>Name and version of the document that is understood.</summary>
    public const string Schema = SchemaNames.Audit;

    private const string Remedy = "give the results.json that an audit wrote";

    /// <summary>Reads a baseline from disk.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InputException">It is missing, or is not a results file of an audit.</exception>
    public static MeasuredDesign Load(string path)
    {
        byte[] bytes;
        try
        {
            bytes = File.ReadAllBytes(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            string why = Directory.Exists(path) ? "it is a folder" : e is FileNotFoundException or DirectoryNotFoundException
                ? "there is no such file"
                : e.Message.TrimEnd('.');
            throw new InputException(InputProblem.Missing, $"{path} cannot be read: {why}; {Remedy}", e);
        }

        return Read(path, bytes);
    }

    /// <summary>Reads a baseline from its bytes.</summary>
    /// <param name="file">Name of the file, for messages.</param>
    /// <param name="utf8">Its bytes.</param>
    /// <exception cref="InputException">They are not the results file of an audit.</exception>
    public static MeasuredDesign Read(string file, ReadOnlyMemory<byte> utf8)
    {
        // An editor may have added a byte-order mark.
        var json = utf8.Span.StartsWith(Encoding.UTF8.Preamble) ? utf8[Encoding.UTF8.Preamble.Length..] : utf8;
        RefuseForeign(file, json);
        try
        {
            using (var numbers = JsonDocument.Parse(json))
            {
                if (!JsonNumbers.CanAllBeMeant(numbers.RootElement))
                {
                    throw new FormatException("it holds a number that no result has");
                }
            }

            var document = JsonSerializer.Deserialize(json.Span, DocumentContext.Default.AuditDocument);
            return BaselineDesign.Of(document!, FileHash.Sha256(utf8.Span));
        }

        // An item of a list may be null, or a list empty, in a document that somebody else wrote.
        catch (Exception e)
            when (e is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException
            or ArithmeticException or IndexOutOfRangeException
            or NullReferenceException)
        {
            throw Refuse($"{file}: the document says it is {Schema} but lacks parts of it; {Remedy}, unchanged", e);
        }
    }

    private static void RefuseForeign(string file, ReadOnlyMemory<byte> json)
    {
        string? schema = SchemaOf(file, json);
        if (schema != Schema)
        {
            string found = schema is null ? "the document has no \"schema\"" : $"the document is {Short(schema)}";
            throw Refuse($"{file}: {found}, and {Schema} was expected; {Remedy}", null);
        }
    }

    private static string? SchemaOf(string file, ReadOnlyMemory<byte> json)
    {
        try
        {
            using var document = JsonDocument.Parse(json);
            var root = document.RootElement;
            return root.ValueKind == JsonValueKind.Object && root.TryGetProperty("schema", out var s) && s.ValueKind == JsonValueKind.String
                ? s.GetString()
                : null;
        }
        catch (JsonException e)
        {
            long line = (e.LineNumber ?? 0) + 1;
            throw Refuse(InvariantText.Of($"{file}, line {line}: this is not JSON, or it was cut short; {Remedy}"), e);
        }
    }

    private static string Short(string text) => text.Length <= 40 ? text : text[..40] + "…";

    private static InputException Refuse(string sentence, Exception? inner) => new(InputProblem.Unusable, sentence, inner);
}
