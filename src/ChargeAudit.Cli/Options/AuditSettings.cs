using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Output;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;

namespace ChargeAudit.Cli.Options;

/// <summary>What every command that audits a study offers: how to print, how strictly to read, and where the figures come from.</summary>
internal sealed class AuditSettings(CliHost host, string commandLine)
{
    public Option<string> Format { get; } = CommonOptions.Format();

    public Option<bool> Strict { get; } = CommonOptions.Strict();

    public Option<bool> Quiet { get; } = CommonOptions.Quiet();

    public Option<string?> Summaries { get; } =
        CommonOptions.Text("--summaries", "folder of summaries: those that match stand for their logs, the rest are read and added", "DIR");

    public Option<string?> Procedure { get; } = CommonOptions.OptionalWord(
        "--procedure", "also work out a published test procedure; information, not a certificate",
        StableName.Of(PublishedProcedure.UsAppendixY));

    /// <summary>The folder of summaries; null where none is named.</summary>
    public static SummaryFolder? FolderOf(string? folder, bool verify = false) => folder is null ? null
        : new SummaryFolder(folder, ProgramVersion.Text, (path, bytes) => AtomicFile.Write(path, bytes), verify);

    /// <summary>Reports summaries that could not be used.</summary>
    public void TellPassedOver(ParseResult parse, SummaryFolder? summaries)
    {
        foreach (string why in parse.GetValue(Quiet) ? [] : summaries?.PassedOver.Order(StringComparer.Ordinal).ToList() ?? [])
        {
            host.Error.WriteLine($"chargeaudit: the log was read, as its summary could not be used: {VisibleText.Of(why)}");
        }
    }

    public StudyProgress? ProgressFor(ParseResult parse) => parse.GetValue(Quiet) ? null : StudyProgress.For(host);

    public AuditOptions Of(ParseResult parse, string? file, StudyProgress? progress) => new()
    {
        Strict = parse.GetValue(Strict),
        ProgramVersion = ProgramVersion.Text,
        CommandLine = $"chargeaudit {commandLine}",
        StudyFile = file is null ? null : PublicNames.Of(file),
        StudySha256 = HashOf(file),
        Clock = host.Clock,
        Progress = progress,
        Procedure = parse.GetValue(Procedure) is null ? PublishedProcedure.None : PublishedProcedure.UsAppendixY,
        Summaries = FolderOf(parse.GetValue(Summaries)),
    };

    /// <summary>The hash of a study file; null where there is none.</summary>
    public static string? HashOf(string? file) => file is not null && File.Exists(file)
        ? FileHash.Sha256(file)
        : null;
}
