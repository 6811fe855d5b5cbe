using System.IO.Compression;
using ChargeAudit.Logs.Streams;
using ZstdSharp;

namespace ChargeAudit.Logs.Sources;

/// <summary>How a file's bytes are packed.</summary>
internal enum Packing
{
    /// <summary>Not at all.</summary>
    None,

    /// <summary>By gzip (RFC 1952).</summary>
    Gzip,

    /// <summary>By Zstandard (RFC 8878).</summary>
    Zstandard,

    /// <summary>As a member of a ZIP archive.</summary>
    Zip,
}

/// <summary>Unpacks files, with bounds on what comes out.</summary>
internal static class Packings
{
    /// <summary>The packing of a file that begins so; an archive may hold anything, and is looked into separately.</summary>
    public static Packing Find(ReadOnlySpan<byte> head) =>
        head.StartsWith((ReadOnlySpan<byte>)[0x1F, 0x8B]) ? Packing.Gzip
        : head.StartsWith((ReadOnlySpan<byte>)[0x28, 0xB5, 0x2F, 0xFD]) ? Packing.Zstandard
        : Packing.None;

    /// <summary>Opens what a file by Zstandard holds.</summary>
    public static Stream OpenZstandard(string path, Stream packed) =>
        new BombGuardStream(new DecompressionStream(packed, leaveOpen: false), packed, path, _ => true, "Zstandard");

    /// <summary>Opens a member of an archive.</summary>
    /// <param name="path">Name of the archive.</param>
    /// <param name="raw">The archive, which can be sought in; closed with what is returned.</param>
    /// <param name="name">Full name of the member.</param>
    public static Stream OpenMember(string path, Stream raw, string name)
    {
        try
        {
            var zip = new ZipArchive(raw, ZipArchiveMode.Read);
            ZipArchiveEntry member = zip.GetEntry(name)!;
            long length = member.Length;
            return new BombGuardStream(new MemberStream(member.Open(), zip), raw, path, count => count == length, "ZIP");
        }
        catch (InvalidDataException e)
        {
            throw LogErrors.Corrupt(path, "ZIP", e);
        }
    }

    // Closes the archive with its member.
    private sealed class MemberStream(Stream member, ZipArchive zip) : ReadOnlyFilter(member)
    {
        public override int Read(Span<byte> buffer) => Inner.Read(buffer);

        protected override void Dispose(bool disposing)
        {
            base.Dispose(disposing);
            if (disposing)
            {
                zip.Dispose();
            }
        }
    }
}
