using System.Text;

namespace ChargeAudit.Logs.Time;

/// <summary>Names of zones after a clock time that stand for one offset.</summary>
/// <remarks>
/// <i>Sources:</i> RFC 5322, 4.3, for those of North America; the others are common practice, no source. CST and CDT are left out: they
/// are used elsewhere for other offsets. A name in brackets after an offset: RFC 9557, 3.1 (the offset holds, the name adds nothing).
/// </remarks>
internal static class ZoneSuffix
{
    private static readonly (string Name, int Minutes)[] Known =
    [
        ("Z", 0), ("UT", 0), ("UTC", 0), ("GMT", 0), ("WET", 0), ("WEST", 60), ("CET", 60), ("CEST", 120), ("MEZ", 60), ("MESZ", 120),
        ("EET", 120), ("EEST", 180), ("JST", 540), ("KST", 540), ("EST", -300), ("EDT", -240), ("MST", -420), ("MDT", -360),
        ("PST", -480), ("PDT", -420),
    ];

    /// <summary>The text without a zone in brackets after an offset.</summary>
    public static ReadOnlySpan<byte> WithoutBrackets(ReadOnlySpan<byte> text) =>
        text.EndsWith("]"u8) && text.IndexOf((byte)'[') is var at and > 0 ? text[..at] : text;

    /// <summary>The offset of a name. [min]</summary>
    public static bool TryFind(ReadOnlySpan<byte> text, out int minutes)
    {
        foreach (var (name, offset) in Known)
        {
            if (Ascii.EqualsIgnoreCase(text, name))
            {
                minutes = offset;
                return true;
            }
        }

        minutes = 0;
        return false;
    }
}
