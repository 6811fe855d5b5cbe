using ChargeAudit.Comparing.Results;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>All that somebody needs to get the same figures again.</summary>
internal static class ReproduceSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result, ReportPlace place)
    {
        var from = result.Provenance;
        var rows = new List<IReadOnlyList<string>>();
        if (from.StudyFile is { } study)
        {
            rows.Add([study, "study", from.StudySha256 ?? "not known"]);
        }

        rows.AddRange(result.Logs.SelectMany(l => l.Files.Zip(l.Sha256),
            (l, f) => (IReadOnlyList<string>)[f.First, WhatItIs(l), f.Second]));
        return new Section("reproduce", "How to get the same figures again",
        [
            .. from.CommandLine is { } command ? new Block[] { new Verbatim(command) } : [],
            new Paragraph(Made(from) + WithoutStudy(from, place)),
            .. from.BundleSha256 is { } bundle
                ? new Block[]
                {
                    new Paragraph("This report belongs to a bundle of study, logs and results, whose list of files (manifest-sha256.txt) "
                        + "has the "
                        + $"SHA-256 {bundle}."),
                }
                : [],
            new DataTable("Files that the figures come from", [new("File"), new("What it is"), new("SHA-256")], rows)
            {
                Folded = rows.Count > 4,
            },
            new Paragraph($"{Beside(place)}{FigureText.Count(result.Logs.Sum(l => l.Rows))} rows were {Read(result)}."),
        ]);
    }

    private static string WhatItIs(LogMeasurement log) =>
        log.From is { } summary ? $"log, by its summary of {summary.ProgramVersion}" : "log";

    private static string Read(AuditResult result) =>
        result.Logs.All(l => l.From is null) ? "read" : "read, now or when their log was summarized";

    private static string WithoutStudy(Provenance from, ReportPlace place) => (from.StudyFile, place) switch
    {
        (not null, _) => "",
        (null, ReportPlace.LocalPage) =>
            " Give the page the same logs and the same answers; what it assumed stands under \"What to doubt\".",
        _ when from.CommandLine is null => " There was no study file; a program that calls the library said what was to be compared.",
        _ => " There was no study file; everything was said on the command line.",
    };

    private static string Beside(ReportPlace place) => place == ReportPlace.LocalPage
        ? "The program's audit command also writes the results and charts as files. "
        : "Beside this page lie results.json (every figure with its sources of uncertainty), sessions.csv (one row for each run, "
            + "measuring point and mode) and the charts as files. ";

    private static string Made(Provenance from) =>
        Prose.Of(
            $"Made with ChargeAudit {from.ProgramVersion} on {from.Created:yyyy-MM-dd} at {from.Created:HH:mm} (UTC offset "
        + $"{from.Created:zzz}).");
}
