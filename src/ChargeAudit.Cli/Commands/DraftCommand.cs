using System.CommandLine;
using System.Text;
using ChargeAudit.Cli.Folders;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>draft FOLDER</c>: looks at the logs in a folder and writes a first study file with its guesses and questions.</summary>
internal static class DraftCommand
{
    public static Command Create(CliHost host)
    {
        var folder = new Argument<string>("FOLDER")
        {
            Description = "folder with the logs; its sub-folders are looked into, one level deep",
        };
        var output = CommonOptions.Text("--out", $"the study file to write (default: {FolderStudy.UsualName} in the folder)", "FILE");
        var replace = new Option<bool>("--replace") { Description = "replace a study file that already exists" };
        var format = CommonOptions.Format();
        var quiet = CommonOptions.Quiet();
        var command =
            new Command("draft",
            "Looks at the logs in a folder and writes a first study file, with its guesses and questions as comments.") { folder, output,
            replace, format, quiet };
        var told = new ToldOptions();
        told.AddTo(command);
        command.SetAction((parse, cancellation) => Task.Run(() =>
        {
            string from = parse.GetValue(folder)!;
            string file = parse.GetValue(output) ?? Path.Combine(from, FolderStudy.UsualName);
            bool silent = parse.GetValue(quiet);
            if (File.Exists(file) && !parse.GetValue(replace))
            {
                throw new InputException(InputProblem.CannotWrite,
                    $"{file} already exists and was not touched; add --replace to replace it, or --out with another name");
            }

            if (Directory.Exists(file))
            {
                throw new InputException(InputProblem.CannotWrite,
                    $"{file} is a folder; name the study file to write, such as {Path.Combine(file, FolderStudy.UsualName)}");
            }

            StudyDraft draft;
            using (var progress = LineProgress.For(host, silent))
            {
                draft = Drafter.Of(from, progress, told.Bind(parse), cancellation);
            }

            AtomicFile.Write(file, new UTF8Encoding(false)
                .GetBytes(DraftText.Write(draft, FolderStudy.Next(Path.GetFileName(file)), log => PathFrom(file, from, log))));
            if (parse.GetValue(format) == "json")
            {
                host.Output.Write(ResultsJson.Draft(draft, file));
            }
            else if (!silent)
            {
                DraftSummary.Write(new TerminalText(host), draft, file);
            }

            NextStep.Say(host, silent, draft.CanBeAudited
                ? $"answer the questions in {NextStep.Quoted(file)}, then chargeaudit audit {NextStep.Quoted(file)}"
                : $"{NextStep.Quoted(file)} lacks a charge by cable or one on a pad; answer its questions, then chargeaudit audit "
                    + $"{NextStep.Quoted(file)}");
            return ExitStatus.Done;
        }, cancellation));
        return command;
    }

    // Forward slashes are understood everywhere, so that a study can be handed on.
    private static string PathFrom(string studyFile, string folder, string log) =>
        Path.GetRelativePath(Path.GetDirectoryName(Path.GetFullPath(studyFile))!, Path.Combine(Path.GetFullPath(folder), log))
            .Replace('\\', '/');
}
