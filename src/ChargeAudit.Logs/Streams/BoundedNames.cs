using System.Xml;

namespace ChargeAudit.Logs.Streams;

/// <summary>The names of a document, each held once by its reader: more names than any schema has are refused, as they would fill the
/// memory.</summary>
/// <param name="path">Name for messages.</param>
internal sealed class BoundedNames(string path) : NameTable
{
    private const int Most = 4096;
    private int _count;

    public override string Add(char[] key, int start, int len) => Get(key, start, len) ?? Counted(base.Add(key, start, len));

    public override string Add(string key) => Get(key) ?? Counted(base.Add(key));

    private string Counted(string name) => ++_count <= Most
        ? name
        : throw LogErrors.MarkupTooLarge(path, "more than", Most, "different names of elements and attributes");
}
