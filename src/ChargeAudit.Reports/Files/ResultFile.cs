using System.Security.Cryptography;
using System.Text;

namespace ChargeAudit.Reports.Files;

/// <summary>A file that is to be written, made while it is written.</summary>
/// <param name="Name">Its name in the folder, with forward slashes.</param>
/// <param name="Write">Writes what it holds.</param>
internal sealed record ResultFile(string Name, Action<Stream> Write)
{
    /// <summary>A file whose bytes are there.</summary>
    public static ResultFile Of(string name, byte[] bytes) => new(name, to => to.Write(bytes));

    /// <summary>A file whose text is made when its turn comes, in UTF-8 without a mark.</summary>
    public static ResultFile OfText(string name, Action<TextWriter> write) => new(name, to =>
    {
        using var text = new StreamWriter(to, new UTF8Encoding(false), leaveOpen: true);
        write(text);
    });

    /// <summary>Writes it to a new file.</summary>
    /// <returns>SHA-256 of its bytes, in lower-case hexadecimal.</returns>
    public string WriteNew(string path)
    {
        using var sha256 = SHA256.Create();
        using var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.None);
        using var hashing = new CryptoStream(file, sha256, CryptoStreamMode.Write);
        Write(hashing);
        hashing.FlushFinalBlock();
        return Convert.ToHexStringLower(sha256.Hash!);
    }
}
