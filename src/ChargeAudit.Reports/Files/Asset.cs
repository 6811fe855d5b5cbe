using System.Reflection;
using System.Text;

namespace ChargeAudit.Reports.Files;

/// <summary>Files that travel inside this assembly.</summary>
internal static class Asset
{
    /// <summary>The bytes of an embedded file.</summary>
    public static byte[] Bytes(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"the embedded file {name} is missing from the build");
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }

    /// <summary>The text of an embedded file.</summary>
    public static string Text(string name) => Encoding.UTF8.GetString(Bytes(name)).ReplaceLineEndings("\n");
}
