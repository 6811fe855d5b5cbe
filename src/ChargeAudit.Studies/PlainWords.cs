using ChargeAudit.Logs;

namespace ChargeAudit.Studies;

/// <summary>
/// The names that people read for what files call by the trade's keys: one name for one thing, listed in docs/words.md. Keys of files are
/// in <see cref="StudyWords"/>.
/// </summary>
public static class PlainWords
{
    /// <summary>Where a meter sat, in a sentence: <c>at the wall</c>.</summary>
    /// <param name="point">The measuring point.</param>
    public static string At(MeasuringPoint point) => point switch
    {
        MeasuringPoint.Wall => "at the wall",
        MeasuringPoint.Usb => "at the adapter's output",
        MeasuringPoint.Device => "at the device",
        _ => "at the battery",
    };

    /// <summary>The measuring point itself: <c>wall</c>.</summary>
    /// <param name="point">The measuring point.</param>
    public static string Place(MeasuringPoint point) => point switch
    {
        MeasuringPoint.Wall => "wall",
        MeasuringPoint.Usb => "adapter's output",
        MeasuringPoint.Device => "device",
        _ => "battery",
    };

    /// <summary>A text with a capital at its start.</summary>
    /// <param name="text">One character or more.</param>
    public static string Capital(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return char.ToUpperInvariant(text[0]) + text[1..];
    }

    /// <summary>Names in a sentence: <c>a</c>, <c>a and b</c>, <c>a, b and c</c>.</summary>
    /// <param name="names">One name or more.</param>
    public static string Listed(IReadOnlyList<string> names)
    {
        ArgumentNullException.ThrowIfNull(names);
        return names.Count == 1 ? names[0] : $"{string.Join(", ", names.Take(names.Count - 1))} and {names[^1]}";
    }

    /// <summary>How a method charges: <c>by cable</c> or <c>on a pad</c>.</summary>
    /// <param name="kind">Its kind.</param>
    public static string Charged(MethodKind kind) => kind == MethodKind.Wired ? "by cable" : "on a pad";

    /// <summary>
    /// How one method of a study charges, by its own name: <c>by cable</c>, <c>on the pad</c>, <c>on pad A</c>, <c>with bedside</c>. A
    /// name that says no more than the kind reads as plain English; any other stands as the user wrote it.
    /// </summary>
    /// <param name="name">The method's name.</param>
    /// <param name="kind">Its kind.</param>
    public static string Charging(string name, MethodKind kind)
    {
        ArgumentNullException.ThrowIfNull(name);
        string word = kind == MethodKind.Wired ? "cable" : "pad";
        bool begins = name.StartsWith(word, StringComparison.OrdinalIgnoreCase)
            && (name.Length == word.Length || !char.IsLetter(name[word.Length]));
        return (begins, kind) switch
        {
            (false, _) => $"with {name}",
            (true, MethodKind.Wired) => $"by {name}",
            _ => name.Length == word.Length ? $"on the {name}" : $"on {name}",
        };
    }
}
