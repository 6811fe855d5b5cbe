using System.Globalization;
using ChargeAudit.LogMaker.Coverage;
using ChargeAudit.LogMaker.Studies;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Coverage;

namespace ChargeAudit.Benchmarks.Coverage;

/// <summary>
/// <c>coverage-logs [--studies N] [--seed S] [--misses FILE] [--only-kind KINDS] [--only-class CLASSES]</c>: how often intervals hold the
/// truth of logs that share no code with the program. With a kind of meter or a class of sample interval, seeds whose studies have none of
/// it are passed over, N studies that have it are audited, and only their rows are shown. <c>coverage-logs --only SEED [--write DIR]</c>:
/// one study again, with its files.
/// </summary>
internal static class LogCoverageCommand
{
    private const string Usage =
        "coverage-logs [--studies N] [--seed S] [--misses FILE] [--only-kind KINDS] [--only-class CLASSES], or coverage-logs --only SEED "
        + "[--write DIR].\n" + Family.Usage;

    public static int Run(string[] arguments, TextWriter output)
    {
        Dictionary<string, string> given = [];
        for (int i = 0; i < arguments.Length; i += 2)
        {
            if (i + 1 == arguments.Length
                || arguments[i] is not ("--studies" or "--seed" or "--misses" or "--only" or "--write" or "--only-kind" or "--only-class"))
            {
                output.WriteLine(Usage);
                return 64;
            }

            given[arguments[i]] = arguments[i + 1];
        }

        ulong Number(string name, ulong otherwise) => given.TryGetValue(name, out string? text)
            ? ulong.Parse(text, CultureInfo.InvariantCulture)
            : otherwise;
        if (Family.Of(given.GetValueOrDefault("--only-kind"), given.GetValueOrDefault("--only-class")) is not { } family)
        {
            output.WriteLine(Usage);
            return 64;
        }

        string scratch =
            Path.Combine(Path.GetTempPath(), "chargeaudit-coverage-" + Environment.ProcessId.ToString(CultureInfo.InvariantCulture));
        try
        {
            return given.ContainsKey("--only")
                ? One(Number("--only", 0), given.GetValueOrDefault("--write"), scratch, output)
                : Many(Number("--seed", 1), Number("--studies", 8000), given.GetValueOrDefault("--misses"), family, scratch, output);
        }
        finally
        {
            if (Directory.Exists(scratch))
            {
                Directory.Delete(scratch, recursive: true);
            }
        }
    }

    private static int One(ulong seed, string? folder, string scratch, TextWriter output)
    {
        MadeStudy made = StudyMaker.Of(seed);
        output.WriteLine(made.Summary);
        FoundStudy found = AuditOfMadeStudy.Of(made, folder ?? scratch);
        foreach (Trial trial in Trial.Of(made, found))
        {
            output.WriteLine(trial.ToString().Split('[')[0]);
        }

        foreach ((string file, string modes) in found.Logs)
        {
            output.WriteLine(file);
            if (made.Charges.FirstOrDefault(c => c.File == file) is { } charge)
            {
                output.WriteLine(InvariantText.Of(
                    $"   true: charge {charge.StartS:F1} to {charge.EndS:F1} s {charge.EnergyWh:F4} Wh, full until {charge.RemovedS:F1} s "
                        + $"{charge.MaintenanceW:F4} W, waiting {charge.NoLoadW:F4} W"));
            }

            output.WriteLine("  found: " + modes);
        }

        return 0;
    }

    private static int Many(ulong first, ulong studies, string? misses, Family family, string scratch, TextWriter output)
    {
        List<Trial> trials = [];
        using TextWriter? list = misses is null ? null : new StreamWriter(misses);
        ulong seed = first;
        for (ulong audited = 0; audited < studies; seed++)
        {
            if (!family.MayHold(seed))
            {
                continue;
            }

            MadeStudy made = StudyMaker.Of(seed);
            if (!family.Holds(made))
            {
                continue;
            }

            audited++;
            foreach (Trial trial in Trial.Of(made, AuditOfMadeStudy.Of(made, scratch)))
            {
                // The text of the files is not needed any more, and there are thousands of them.
                if (!family.Holds(trial))
                {
                    continue;
                }

                trials.Add(trial with { Study = made with { Files = new Dictionary<string, string>() } });
                if (trial.Outcome != Outcome.Holds)
                {
                    list?.WriteLine(trial);
                }
            }

            list?.Flush();
        }

        IReadOnlyList<CoverageRow> rows = [.. CoverageRow.Of([.. trials.Where(t => t.Counts)]).Where(family.Shows)];
        output.Write(CoverageRow.ToMarkdown(rows));
        output.WriteLine();
        output.WriteLine(
            InvariantText.Of(
                $"{studies} studies from seeds {first} to {seed - 1}: {trials.Count(t => t.Outcome == Outcome.Holds)} intervals hold the "
            + $"truth, {trials.Count(t => t.Outcome == Outcome.Misses)} miss it; {trials.Count(t => t.Outcome == Outcome.NotGiven)} "
            + $"figures not given, {trials.Count(t => t.Outcome == Outcome.Stopped)} in studies that stopped. A row counts one method and "
            + $"one place of each study; these sums count all."));
        return rows.Any(r => r.TooFew) ? 1 : 0;
    }
}
