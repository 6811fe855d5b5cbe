using ChargeAudit.Cli.Output;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Cli.Folders;

/// <summary>The study of a folder: the one that is in it, or else one drafted from its logs.</summary>
/// <param name="Study">The study.</param>
/// <param name="File">The study file; null where it was drafted.</param>
/// <param name="Draft">The draft; null where a study file was found.</param>
internal sealed record FolderStudy(Study Study, string? File, StudyDraft? Draft)
{
    /// <summary>Name of the study file where no other is given.</summary>
    public const string UsualName = "study.toml";

    /// <summary>What to do with a drafted study.</summary>
    /// <param name="studyName">Name of its file.</param>
    public static string Next(string studyName) => $"Then: chargeaudit audit {studyName}";

    private static readonly string[] Unsaid =
    [
        "Each run was taken as one charge from the same start to the same end; how full the battery was is not stated.",
        "No meter accuracy was stated, so no figure has an interval.",
        "Charges that no name tells apart were taken to be of the same cable or the same pad, and averaged.",
    ];

    /// <summary>What was assumed, as sentences; empty where a study file says it all.</summary>
    public IReadOnlyList<string> Assumptions => Draft is null ? [] : AssumedIn(Draft);

    /// <summary>What a draft assumes, as sentences.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="charge">Whether the battery's state of charge is stated besides.</param>
    /// <param name="accuracy">Whether a meter's accuracy is stated besides.</param>
    public static IReadOnlyList<string> AssumedIn(StudyDraft draft, bool charge = false, bool accuracy = false) =>
    [
        .. draft.Guesses, .. draft.Questions.Select(q => $"Not certain: {q}"), .. charge ? [] : Unsaid[..1],
        .. accuracy ? [] : Unsaid[1..2], Unsaid[2],
    ];

    public static FolderStudy Of(
        string folder, Func<Tariff?, Tariff?> priceInPlaceOf, LogOptions? told, Action<string> refuseBesideStudy,
            IProgress<string>? progress, CancellationToken cancellation)
    {
        var studies = FolderFiles.Find(folder).Studies;
        if (studies.Count > 1)
        {
            throw new InputException(InputProblem.Usage,
                $"{folder} holds {studies.Count} study files ({string.Join(", ", studies)}); name the one that is meant, such as "
                + $"{Path.Combine(folder, studies[0])}");
        }

        if (studies.Count == 1)
        {
            string file = Path.Combine(folder, studies[0]);
            refuseBesideStudy(file);
            var own = StudyReader.Load(file);
            return new FolderStudy(own with { Tariff = priceInPlaceOf(own.Tariff) ?? own.Tariff }, file, null);
        }

        var draft = Drafter.Of(folder, progress, told, cancellation);
        return Drafted(
            draft, folder, priceInPlaceOf(null), $"{folder} holds no study file, and its logs",
            $"Write one with chargeaudit draft {NextStep.Quoted(folder)} and answer what it asks");
    }

    /// <summary>A study drafted from logs that were named one by one.</summary>
    public static FolderStudy OfLogs(
        IReadOnlyList<string> logs, Tariff? tariff, LogOptions? told, IProgress<string>? progress, CancellationToken cancellation) =>
        Drafted(
            Drafter.OfLogs(logs, progress, told, cancellation), Drafter.FolderOf(logs), tariff, "the logs",
            "Say it with --wired before the logs of charges by cable and --inductive before those on a pad");

    private static FolderStudy Drafted(StudyDraft draft, string folder, Tariff? tariff, string subject, string remedy)
    {
        if (!draft.CanBeAudited)
        {
            string questions = string.Join(" ", draft.Questions.Take(3));
            throw new InputException(
                InputProblem.Unusable, $"{subject} do not tell a charge by cable from one on a pad: {questions} {remedy}");
        }

        var study = StudyReader.Read(UsualName, DraftText.Write(draft, Next(UsualName), log => log), folder);
        return new FolderStudy(study with { Tariff = tariff }, null, draft);
    }
}
