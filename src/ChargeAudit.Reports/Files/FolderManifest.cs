using System.Text.Json;
using ChargeAudit.Checking.Documents;

namespace ChargeAudit.Reports.Files;

/// <summary>The list of files that one run wrote into a folder: what belongs together, and what is ours to replace.</summary>
/// <param name="Files">Names relative to the folder, with forward slashes, and SHA-256 of what each holds.</param>
/// <param name="Complete">Whether all of them stand there as listed; false while files are being replaced one by one.</param>
internal sealed record FolderManifest(IReadOnlyDictionary<string, string> Files, bool Complete)
{
    /// <summary>Name of the file that holds it.</summary>
    public const string FileName = "chargeaudit-files.json";

    /// <summary>Name and version of the document.</summary>
    public const string Schema = SchemaNames.Files;

    private const int LargestBytes = 1 << 22;
    private const int Attempts = 200;
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(5);

    /// <summary>No files.</summary>
    public static FolderManifest Empty { get; } = new(new Dictionary<string, string>(), false);

    /// <summary>Whether a file is listed.</summary>
    public bool Holds(string name) => name == FileName || Files.ContainsKey(name);

    /// <summary>The manifest of a folder; null where there is none that can be read.</summary>
    public static FolderManifest? Find(string folder)
    {
        string path = Path.Combine(folder, FileName);
        for (int attempt = 1; ; attempt++)
        {
            try
            {
                return File.Exists(path) && new FileInfo(path).Length is > 0 and <= LargestBytes ? Read(File.ReadAllBytes(path)) : null;
            }
            catch (IOException) when (attempt < Attempts)
            {
                // Another program has just put its folder there and still holds it.
                Thread.Sleep(Between);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                return null;
            }
        }
    }

    private static FolderManifest? Read(byte[] bytes)
    {
        try
        {
            using var document = JsonDocument.Parse(bytes);
            var root = document.RootElement;
            return root.GetProperty("schema").GetString() != Schema ? null : new FolderManifest(
                root.GetProperty("files").EnumerateArray()
                    .ToDictionary(f => f.GetProperty("name").GetString()!, f => f.GetProperty("sha256").GetString()!,
                    StringComparer.Ordinal),
                root.GetProperty("complete").GetBoolean());
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or ArgumentException)
        {
            return null;
        }
    }

    /// <summary>As bytes.</summary>
    public byte[] ToBytes()
    {
        using var to = new MemoryStream();
        using (var json = new Utf8JsonWriter(to, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
        {
            json.WriteStartObject();
            json.WriteString("schema", Schema);
            json.WriteBoolean("complete", Complete);
            json.WriteStartArray("files");
            foreach (var (name, sha256) in Files)
            {
                json.WriteStartObject();
                json.WriteString("name", name);
                json.WriteString("sha256", sha256);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        to.WriteByte((byte)'\n');
        return to.ToArray();
    }
}
