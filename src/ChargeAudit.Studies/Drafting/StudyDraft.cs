using System.Text.Json.Serialization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies.Drafting;

/// <summary>A first study of a folder of logs: every decision as data, each with its reason. Immutable.</summary>
public sealed record StudyDraft
{
    /// <summary>Title for people: the folder's name.</summary>
    public required string Title { get; init; }

    /// <summary>Name of the method that the others are divided by; null where no wired method was found.</summary>
    public string? Reference { get; init; }

    /// <summary>Meters, those nearest the wall first.</summary>
    public required IReadOnlyList<DraftMeter> Meters { get; init; }

    /// <summary>Methods, the reference first.</summary>
    public required IReadOnlyList<DraftMethod> Methods { get; init; }

    /// <summary>Charges, in the order of methods and times; those of no known method last.</summary>
    public required IReadOnlyList<DraftRun> Runs { get; init; }

    /// <summary>Logs of chargers that wait with no device; those of no known method last.</summary>
    public required IReadOnlyList<DraftRun> Standby { get; init; }

    /// <summary>Files that are not in the study, each with the reason.</summary>
    public required IReadOnlyList<PassedOver> PassedOver { get; init; }

    /// <summary>What concerns the study as a whole.</summary>
    public IReadOnlyList<DraftRemark> Remarks { get; init; } = [];

    /// <summary>Whether an audit can be made of it as it stands: a wired and an inductive method, each with a charge.</summary>
    public bool CanBeAudited =>
        Enum.GetValues<MethodKind>().All(kind => Methods.Any(m => m.Kind == kind && Runs.Any(r => r.Method == m.Name)));

    /// <summary>All guesses, as sentences that name what they are about.</summary>
    public IReadOnlyList<string> Guesses => Sentences(RemarkKind.Guess);

    /// <summary>All questions, as sentences that name what they are about.</summary>
    public IReadOnlyList<string> Questions => Sentences(RemarkKind.Question);

    // The same remark on several runs is one sentence.
    private List<string> Sentences(RemarkKind kind)
    {
        const int mostNamed = 4;
        var all = Remarks.Select(r => (About: "", Remark: r))
            .Concat(Methods.SelectMany(m => m.Remarks, (_, r) => (About: "", Remark: r)))
            .Concat(Meters.SelectMany(m => m.Remarks, (m, r) => (About: m.Name, Remark: r)))
            .Concat(Runs.Concat(Standby)
                .SelectMany(r => r.Remarks, (run, r) => (About: run.Logs.MaxBy(l => l.Key).Value.Files[0], Remark: r)));
        return
        [
            .. all.Where(r => r.Remark.Kind == kind).GroupBy(r => r.Remark.Text, r => r.About).Select(g =>
            {
                var about = g.Distinct().Where(a => a.Length > 0 && !g.Key.Contains(a, StringComparison.Ordinal)).ToList();
                string more = about.Count > mostNamed ? InvariantText.Of($" and {about.Count - mostNamed} more") : "";
                return about.Count == 0 ? g.Key : $"{string.Join(", ", about.Take(mostNamed))}{more}: {g.Key}";
            }),
        ];
    }
}

/// <summary>What a remark is.</summary>
public enum RemarkKind
{
    /// <summary>A decision that the logs or their names suggest.</summary>
    [JsonStringEnumMemberName("guess")] Guess,

    /// <summary>What no log tells, or what speaks against a guess.</summary>
    [JsonStringEnumMemberName("question")] Question,
}

/// <summary>A guess or a question, as one sentence.</summary>
/// <param name="Kind">Which.</param>
/// <param name="Text">The sentence, with its reason.</param>
public sealed record DraftRemark(RemarkKind Kind, string Text)
{
    /// <summary>A guess.</summary>
    public static DraftRemark Guess(string text) => new(RemarkKind.Guess, text);

    /// <summary>A question.</summary>
    public static DraftRemark Question(string text) => new(RemarkKind.Question, text);
}

/// <summary>A meter.</summary>
/// <param name="Name">Its name in the study.</param>
/// <param name="Point">Where it sits.</param>
/// <param name="Quantities">Words of the quantities whose accuracy is asked for.</param>
/// <param name="Remarks">Guesses and questions.</param>
public sealed record DraftMeter(string Name, MeasuringPoint Point, IReadOnlyList<string> Quantities, IReadOnlyList<DraftRemark> Remarks)
{
    /// <summary>Which part of a date comes first, where it had to be guessed; null otherwise.</summary>
    public DateOrder? DateOrder { get; init; }

    /// <summary>What the user said about all logs; null for nothing.</summary>
    public LogOptions? Told { get; init; }

    /// <summary>Whether its times stand in local time of a zone that nobody named.</summary>
    public bool LocalTimes { get; init; }
}

/// <summary>A way of charging.</summary>
/// <param name="Name">Its name in the study.</param>
/// <param name="Kind">By cable or on a pad.</param>
/// <param name="Remarks">Guesses and questions.</param>
public sealed record DraftMethod(string Name, MethodKind Kind, IReadOnlyList<DraftRemark> Remarks);

/// <summary>One log of a run.</summary>
/// <param name="Files">Files in the order of time, relative to the folder, with forward slashes.</param>
/// <param name="Meter">Name of its meter.</param>
public sealed record DraftLog(IReadOnlyList<string> Files, string Meter);

/// <summary>A charge, or a stretch of waiting.</summary>
/// <param name="Method">Name of its method; null where nothing tells.</param>
/// <param name="Logs">A log at each measuring point.</param>
/// <param name="Session">Which charge of the log this is, counted from 1; null where there is one only.</param>
/// <param name="Remarks">Guesses and questions.</param>
public sealed record DraftRun(
    string? Method, IReadOnlyDictionary<MeasuringPoint, DraftLog> Logs, int? Session, IReadOnlyList<DraftRemark> Remarks);

/// <summary>What somebody said about a log, in place of a guess.</summary>
/// <param name="Kind">By cable or on a pad; null: not said.</param>
/// <param name="Point">Where its meter sat; null: not said.</param>
public sealed record LogChoice(MethodKind? Kind, MeasuringPoint? Point);

/// <summary>A file that is not in the study.</summary>
/// <param name="File">Its name, relative to the folder.</param>
/// <param name="Why">Why not, as a sentence without a full stop.</param>
public sealed record PassedOver(string File, string Why)
{
    /// <summary>Whether the program wrote it itself, as the report of an earlier audit.</summary>
    internal bool IsOurs { get; init; }
}
