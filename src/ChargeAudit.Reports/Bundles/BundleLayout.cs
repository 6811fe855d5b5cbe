using System.Globalization;

namespace ChargeAudit.Reports.Bundles;

/// <summary>
/// The layout of a bundle: a bag in a ZIP archive. <c>data/study/</c> holds the study and all that it names, <c>data/results.json</c> the
/// results; <c>manifest-sha256.txt</c> lists both with their hashes, and the hash of that list stands for the bundle.
/// <i>Source:</i> RFC 8493, The BagIt File Packaging Format (V1.0), 2 (from memory).
/// </summary>
internal static class BundleLayout
{
    public const string Declaration = "bagit.txt";
    public const string Info = "bag-info.txt";
    public const string Manifest = "manifest-sha256.txt";
    public const string TagManifest = "tagmanifest-sha256.txt";
    public const string Report = "report.html";
    public const string Payload = "data/";
    public const string Study = Payload + "study/";
    public const string Results = Payload + "results.json";

    public const string StudyLabel = "ChargeAudit-Study";
    public const string StrictLabel = "ChargeAudit-Strict";
    public const string ProcedureLabel = "ChargeAudit-Procedure";

    /// <summary>A manifest: one line for each file, its hash and its place.</summary>
    public static string ManifestOf(IEnumerable<(string Name, string Sha256)> files) => string.Concat(
        files.OrderBy(f => f.Name, StringComparer.Ordinal).Select(f => $"{f.Sha256}  {Encoded(f.Name)}\n"));

    /// <summary>The lines of a manifest; null where one is none.</summary>
    public static IReadOnlyList<(string Name, string Sha256)>? Read(string manifest)
    {
        var lines = new List<(string Name, string Sha256)>();
        foreach (string line in manifest.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = line.TrimEnd('\r').Split((char[]?)null, 2, StringSplitOptions.RemoveEmptyEntries);
            if (parts.Length != 2 || parts[0].Length != 64)
            {
                return null;
            }

            lines.Add((Decoded(parts[1].TrimStart('*')), parts[0].ToLower(CultureInfo.InvariantCulture)));
        }

        return lines;
    }

    /// <summary>The value of a label in bag-info.txt; null where it is not there.</summary>
    public static string? Value(string info, string label) => info.Split('\n')
        .FirstOrDefault(l => l.StartsWith(label + ": ", StringComparison.Ordinal))?[(label.Length + 2)..].TrimEnd('\r');

    // RFC 8493, 2.1.3: line ends and the per cent sign itself are written with per cent signs.
    private static string Encoded(string name) => name.Replace("%", "%25", StringComparison.Ordinal)
        .Replace("\n", "%0A", StringComparison.Ordinal).Replace("\r", "%0D", StringComparison.Ordinal);

    private static string Decoded(string name) => name.Replace("%0A", "\n", StringComparison.OrdinalIgnoreCase)
        .Replace("%0D", "\r", StringComparison.OrdinalIgnoreCase).Replace("%25", "%", StringComparison.Ordinal);
}
