using System.Text.Json;
using System.Text.Json.Serialization;
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
            var document = JsonSerializer.Deserialize(bytes, FilesContext.Default.FilesDocument);

            // Items of a list may be null in JSON whatever their type says.
            return document?.Schema == Schema && document.Files.All(f => f is not null)
                ? new FolderManifest(document.Files.ToDictionary(f => f.Name, f => f.Sha256, StringComparer.Ordinal), document.Complete)
                : null;
        }
        catch (Exception e) when (e is JsonException or ArgumentException)
        {
            return null;
        }
    }

    /// <summary>As bytes.</summary>
    public byte[] ToBytes() =>
    [
        .. JsonSerializer.SerializeToUtf8Bytes(
            new FilesDocument(Schema, Complete, [.. Files.Select(f => new ListedFileDocument(f.Key, f.Value))]),
            FilesContext.Default.FilesDocument),
        (byte)'\n',
    ];
}

/// <summary>A manifest.</summary>
internal sealed record FilesDocument(string Schema, bool Complete, IReadOnlyList<ListedFileDocument> Files);

/// <summary>A file of a manifest.</summary>
internal sealed record ListedFileDocument(string Name, string Sha256);

/// <summary>How a manifest becomes JSON and is read again, made when the program is compiled.</summary>
[JsonSourceGenerationOptions(
    GenerationMode = JsonSourceGenerationMode.Metadata, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, WriteIndented = true,
    NewLine = "\n", RespectNullableAnnotations = true, RespectRequiredConstructorParameters = true)]
[JsonSerializable(typeof(FilesDocument))]
internal sealed partial class FilesContext : JsonSerializerContext;
