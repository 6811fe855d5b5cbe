using System.Globalization;
using System.Text;
using ChargeAudit.Logs;

namespace ChargeAudit.Studies.Drafting;

/// <summary>What the words in a file's path say about the log. Case, accents and the way words are joined do not matter.</summary>
internal sealed record NameWords
{
    private static readonly string[] Wired =
        ["cable", "cables", "wired", "wire", "cord", "corded", "lead", "kabel", "ladekabel", "cabo", "cavo", "bedraad", "filaire",
            "alambrico"];

    private static readonly string[] Inductive =
    [
        "pad", "pads", "ladepad", "inductive", "induction", "induktiv", "induktion", "inductivo", "inductif", "inducao", "induccion",
            "induzione", "wireless", "cordless",
        "qi", "coil", "coils", "mat", "puck", "stand", "kabellos", "drahtlos", "inalambrico", "sansfil", "semfio", "senzafili", "draadloos",
    ];

    private static readonly (string Word, MeasuringPoint Point)[] Points =
    [
        ("wall", MeasuringPoint.Wall), ("mains", MeasuringPoint.Wall), ("plug", MeasuringPoint.Wall), ("socket", MeasuringPoint.Wall),
            ("outlet", MeasuringPoint.Wall),
        ("ac", MeasuringPoint.Wall), ("steckdose", MeasuringPoint.Wall), ("netz", MeasuringPoint.Wall), ("prise", MeasuringPoint.Wall),
            ("tomada", MeasuringPoint.Wall),
        ("enchufe", MeasuringPoint.Wall), ("presa", MeasuringPoint.Wall), ("usb", MeasuringPoint.Usb), ("usbc", MeasuringPoint.Usb),
            ("dc", MeasuringPoint.Usb),
        ("device", MeasuringPoint.Device), ("receiver", MeasuringPoint.Device), ("rx", MeasuringPoint.Device),
            ("battery", MeasuringPoint.Battery), ("akku", MeasuringPoint.Battery),
        ("cell", MeasuringPoint.Battery), ("bateria", MeasuringPoint.Battery), ("batterie", MeasuringPoint.Battery),
    ];

    private static readonly string[] Waits =
        ["waiting", "wait", "idle", "idling", "standby", "noload", "nodevice", "nophone", "empty", "leerlauf", "bereitschaft", "veille",
            "espera", "attesa"];

    /// <summary>By cable or on a pad; null where no word says it, or words say both.</summary>
    public MethodKind? Kind { get; private init; }

    /// <summary>The word that says it, as it is spelt in the tables; both words where they contradict each other; null where there is
    /// none.</summary>
    public string? KindWord { get; private init; }

    /// <summary>The folder whose name says it; null where the file's own name does.</summary>
    public string? KindFolder { get; private init; }

    /// <summary>Where the meter sat; null where no word says it.</summary>
    public MeasuringPoint? Point { get; private init; }

    /// <summary>The word that says it; null where there is none.</summary>
    public string? PointWord { get; private init; }

    /// <summary>The word that says that the charger waits with no device; null where there is none.</summary>
    public string? WaitingWord { get; private init; }

    /// <summary>The path's words without those of the measuring point: the same for two logs of one run, if their names say so.</summary>
    public required string Stem { get; init; }

    /// <summary>Whether the user stated the kind, so that no word had to tell it.</summary>
    public bool Told { get; private init; }

    /// <summary>The same words, with the kind that somebody said.</summary>
    /// <param name="kind">The kind.</param>
    public NameWords Said(MethodKind kind) =>
        kind == Kind ? this : this with
        {
            Kind = kind,
            KindWord = kind == MethodKind.Wired ? Wired[0] : Inductive[0],
            KindFolder = null,
            Told = true,
        };

    /// <summary>Reads the words of a path.</summary>
    /// <param name="path">Path of the log, relative to its folder, with forward slashes.</param>
    public static NameWords Of(string path)
    {
        int slash = path.LastIndexOf('/');
        string folder = slash < 0 ? "" : path[..slash];
        var inFile = Words(WithoutEndings(path[(slash + 1)..]));
        var inFolder = Words(folder);
        var ofFile = KindOf(inFile);
        var ofFolder = KindOf(inFolder);
        bool byFile = ofFile.Word is not null;
        var point = PointOf(inFile) ?? PointOf(inFolder);
        return new NameWords
        {
            Kind = byFile ? ofFile.Kind : ofFolder.Kind,
            KindWord = byFile ? ofFile.Word : ofFolder.Word,
            KindFolder = byFile || ofFolder.Word is null ? null : folder,
            Point = point?.Point,
            PointWord = point?.Word,
            WaitingWord = Array.Find(Waits, w => inFile.Contains(w) || inFolder.Contains(w)),
            Stem = string.Join('-', inFolder.Concat(inFile).Where(w => !Points.Any(p => p.Word == w))),
        };
    }

    private static (MethodKind? Kind, string? Word) KindOf(List<string> words)
    {
        string? wired = words.Find(w => Array.IndexOf(Wired, w) >= 0);
        string? inductive = words.Find(w => Array.IndexOf(Inductive, w) >= 0);
        return (wired, inductive) switch
        {
            (null, null) => (null, null),
            (not null, null) => (MethodKind.Wired, wired),
            (null, not null) => (MethodKind.Inductive, inductive),
            _ => (null, $"{wired}\" and \"{inductive}"),
        };
    }

    private static (MeasuringPoint Point, string Word)? PointOf(List<string> words)
    {
        foreach (var (word, point) in Points)
        {
            if (words.Contains(word))
            {
                return (point, word);
            }
        }

        return null;
    }

    // "log.csv.gz" has two endings, and neither says anything of the run.
    private static string WithoutEndings(string name)
    {
        while (Path.GetExtension(name) is { Length: > 1 and <= 8 } ending && FolderFiles.IsLogEnding(ending))
        {
            name = Path.GetFileNameWithoutExtension(name);
        }

        return name;
    }

    private static List<string> Words(string text)
    {
        var words = new List<string>();
        var word = new StringBuilder();
        char before = '\0';
        foreach (char c in text.Normalize(NormalizationForm.FormD))
        {
            if (CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.NonSpacingMark)
            {
                continue;
            }

            bool starts = (char.IsUpper(c) && char.IsLower(before))
                || (char.IsDigit(c) != char.IsDigit(before) && char.IsLetterOrDigit(before));
            if ((starts || !char.IsLetterOrDigit(c)) && word.Length > 0)
            {
                words.Add(word.ToString());
                word.Clear();
            }

            if (char.IsLetterOrDigit(c))
            {
                word.Append(char.ToLowerInvariant(c));
            }

            before = c;
        }

        if (word.Length > 0)
        {
            words.Add(word.ToString());
        }

        return Joined(words);
    }

    // "stand-by", "no load" and "sans fil" are one word each, and "stand" alone another.
    private static List<string> Joined(List<string> words)
    {
        for (int i = 0; i + 1 < words.Count; i++)
        {
            string both = words[i] + words[i + 1];
            if (both is "standby" or "noload" or "nodevice" or "nophone" or "sansfil" or "semfio" or "senzafili" or "usbc")
            {
                words[i] = both;
                words.RemoveAt(i + 1);
            }
        }

        return words;
    }
}
