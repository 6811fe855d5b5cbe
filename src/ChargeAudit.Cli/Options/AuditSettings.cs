using System.CommandLine;
using System.Security.Cryptography;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Output;
using ChargeAudit.Comparing.Auditing;

namespace ChargeAudit.Cli.Options;

/// <summary>What every command that audits a study offers: how to print, how strictly to read, and where the figures come from.</summary>
internal sealed class AuditSettings(CliHost host, string commandLine)
{
    public Option<string> Format { get; } = CommonOptions.Format();

    public Option<bool> Strict { get; } = CommonOptions.Strict();

    public Option<bool> Quiet { get; } = CommonOptions.Quiet();

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
    };

    /// <summary>The hash of a study file; null where there is none.</summary>
    public static string? HashOf(string? file) => file is not null && File.Exists(file)
        ? Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(file)))
        : null;
}
