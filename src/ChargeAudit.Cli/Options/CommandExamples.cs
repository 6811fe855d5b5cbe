using System.CommandLine;

namespace ChargeAudit.Cli.Options;

/// <summary>One or two examples of each command, for its help and its page; they work from the root of the repository.</summary>
public static class CommandExamples
{
    private static readonly Dictionary<string, string[]> ByCommand = new(StringComparer.Ordinal)
    {
        ["audit"] =
        [
            "chargeaudit audit sample-logs/study.toml",
            "chargeaudit audit --wired sample-logs/cable-1-wall.csv --inductive sample-logs/pad-1-wall.csv --point wall --price 0.30 "
                + "--currency EUR",
        ],
        ["measure"] = ["chargeaudit measure sample-logs/pad-1-wall.csv --point wall --accuracy power=\"0.5 % + 0.05 W\"",
            "chargeaudit measure sample-logs/pad-1-usb.csv --format json"],
        ["watch"] = ["chargeaudit watch sample-logs/pad-1-wall.csv --point wall"],
        ["summarize"] = ["chargeaudit summarize --study sample-logs/study.toml --out summaries",
            "chargeaudit audit sample-logs/study.toml --summaries summaries"],
        ["inspect"] = ["chargeaudit inspect sample-logs/pad-2-usb.csv"],
        ["check"] = ["chargeaudit audit sample-logs/study.toml", "chargeaudit simulate --seed 2 --meter-seed 20260302 --out candidate",
            "chargeaudit check candidate/study.toml --baseline chargeaudit-report/results.json --margin 10%"],
        ["plan"] = ["chargeaudit plan --resolution 3% --repeatability 1%", "chargeaudit audit sample-logs/study.toml",
            "chargeaudit plan --margin 2% --from chargeaudit-report/results.json --method pad --point wall"],
        ["bundle"] = ["chargeaudit bundle sample-logs/study.toml --out audit.zip", "chargeaudit bundle --verify audit.zip"],
        ["pool"] = ["chargeaudit audit sample-logs/study.toml", "chargeaudit pool chargeaudit-report/results.json --out pool"],
        ["simulate"] = ["chargeaudit simulate docs/scenarios/10-tablet.toml --out tablet --seed 7"],
        ["coils"] = ["chargeaudit coils --primary 21uH --primary-capacitance 100nF --secondary 12uH --coupling 0.4"],
        ["draft"] = ["chargeaudit draft sample-logs --out drafted.toml"],
        ["page"] = ["chargeaudit page"],
        ["settings"] = ["chargeaudit settings"],
        ["completion"] = ["chargeaudit completion bash"],
        ["man"] = ["chargeaudit man audit", "chargeaudit man --out man1"],
    };

    /// <summary>The examples of a command; of the program itself, those to begin with.</summary>
    /// <param name="command">The command.</param>
    public static IReadOnlyList<string> Of(Command command) =>
        command is RootCommand ? [ByCommand["audit"][0], .. ByCommand["page"]] : ByCommand.GetValueOrDefault(command.Name, []);
}
