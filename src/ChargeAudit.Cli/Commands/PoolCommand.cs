using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Pooling;
using ChargeAudit.Pooling.Audits;
using ChargeAudit.Reports.Folders;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>pool RESULTS…</c>: many audits as one answer.</summary>
internal static class PoolCommand
{
    public static Command Create(CliHost host)
    {
        var results = new Argument<string[]>("RESULTS")
        {
            Description = "results.json files, folders with such files, or a list (TOML)",
            Arity = ArgumentArity.OneOrMore,
        };
        results.Validators.Add(CommonOptions.RefuseOptionLikeNames);
        var point =
            CommonOptions.OptionalWord("--point", "the one measuring point (default: the first that most audits have)", StudyWords.Points);
        var folder = CommonOptions.Text("--out", "folder for pooled.html, .json, .csv, .parquet, .md and the charts", "DIR");
        var overwrite = CommonOptions.Overwrite();
        var format = CommonOptions.Format();
        var quiet = CommonOptions.Quiet();
        var command =
            new Command("pool",
            "Joins many audits into one answer: mean and spread over devices, what another device would use, a ranking of chargers.")
            {
                results, point, folder, overwrite, format, quiet,
            };
        command.SetAction((parse, cancellation) => Task.Run(() =>
        {
            var (audits, lists) = PoolReader.Read(parse.GetValue(results)!);
            var pool = Pooler.Run(audits, lists, parse.GetValue(point) is { } word ? StudyWords.Point(word) : null);
            cancellation.ThrowIfCancellationRequested();
            var files = parse.GetValue(folder) is { } place
                ? PoolFolder.Write(pool, place, ProgramVersion.Text, parse.GetValue(overwrite), cancellation)
                : [];
            if (parse.GetValue(format) == "json")
            {
                host.Output.Write(PooledJson.Of(pool));
            }
            else if (!parse.GetValue(quiet))
            {
                PooledText.Write(new TerminalText(host), pool, files);
            }

            return ExitStatus.Done;
        }, cancellation));
        return command;
    }
}
