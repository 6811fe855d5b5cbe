using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Bundles;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>bundle STUDY --out FILE</c> and <c>bundle --verify FILE</c>: an audit that others can repeat.</summary>
internal sealed class BundleCommand
{
    private readonly Argument<string?> _study = new("STUDY")
    {
        Description = "the study file",
        Arity = ArgumentArity.ZeroOrOne,
    };
    private readonly Option<string?> _out = CommonOptions.Text("--out", "the archive to write, such as audit.zip", "FILE");
    private readonly Option<string?> _verify =
        CommonOptions.Text("--verify", "an archive to verify: every byte by its hash, every figure by a new audit", "FILE");
    private readonly Option<bool> _overwrite = CommonOptions.Overwrite();
    private readonly CliHost _host;
    private readonly AuditSettings _settings;

    private BundleCommand(CliHost host, string commandLine)
    {
        _host = host;
        _settings = new AuditSettings(host, commandLine);
    }

    public static Command Create(CliHost host, string commandLine)
    {
        var self = new BundleCommand(host, commandLine);
        self._study.Validators.Add(CommonOptions.RefuseOptionLikeNames);
        var command = new Command("bundle", "Packs study, logs, results and hashes into one archive, from which others get the same "
            + "figures.")
        {
            self._study, self._out, self._verify, self._settings.Procedure, self._overwrite, self._settings.Format, self._settings.Strict,
            self._settings.Quiet,
        };
        command.SetAction((parse, cancellation) => Task.Run(() => self.Run(parse, cancellation), cancellation));
        return command;
    }

    private int Run(ParseResult parse, CancellationToken cancellation) => (parse.GetValue(_study), parse.GetValue(_verify)) switch
    {
        ({ } study, null) => Write(parse, study, cancellation),
        (null, { } archive) => Verify(parse, archive, cancellation),
        _ => throw new InputException(InputProblem.Usage,
            "name a study file and --out audit.zip to write a bundle, or --verify audit.zip to verify one"),
    };

    private int Write(ParseResult parse, string study, CancellationToken cancellation)
    {
        string path = parse.GetValue(_out) ?? throw new InputException(InputProblem.Usage, "name the archive to write: --out audit.zip");
        using var progress = _settings.ProgressFor(parse);
        var result = Auditor.Run(StudyReader.Load(study), _settings.Of(parse, study, progress), cancellation);
        var written = BundleWriter.Write(result, path, parse.GetValue(_settings.Strict), parse.GetValue(_overwrite), cancellation);
        progress?.Dispose();
        if (parse.GetValue(_settings.Format) == "json")
        {
            _host.Output.Write(BundleJson.Written(path, written.Sha256, written.Files));
        }
        else if (!parse.GetValue(_settings.Quiet))
        {
            BundleText.Written(new TerminalText(_host), path, written.Sha256, written.Files.Count);
        }

        return ExitStatus.Done;
    }

    private int Verify(ParseResult parse, string archive, CancellationToken cancellation)
    {
        var verification = BundleVerifier.Verify(archive, cancellation);
        if (parse.GetValue(_settings.Format) == "json")
        {
            _host.Output.Write(BundleJson.Verified(archive, verification));
        }
        else if (!parse.GetValue(_settings.Quiet))
        {
            BundleText.Verified(new TerminalText(_host), archive, verification);
        }

        return verification.Holds ? ExitStatus.Done : ExitStatus.CheckFailed;
    }
}
