using System.CommandLine;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Output;
using ChargeAudit.Cli.Settings;

namespace ChargeAudit.Cli.Commands;

/// <summary><c>settings</c>: the defaults that the user has set, and where.</summary>
internal static class SettingsCommand
{
    public static Command Create(CliHost host)
    {
        var command = new Command("settings", "Shows the defaults that you have set in the environment or in a file, and where.");
        command.SetAction(_ => Show(host));
        return command;
    }

    private static int Show(CliHost host)
    {
        var settings = UserSettings.Of(host);
        var text = new TerminalText(host);
        text.Table(["setting", "value", "set in", "meaning"],
            Setting.All.Select(s => (string[])[s.Key, settings[s]?.Text ?? "not set", settings[s]?.From ?? "", s.Meaning]));
        text.Line(settings.File is not { } file
            ? "You have no folder for configuration, so only the environment counts."
            : $"The file is {file}, which {(File.Exists(file) ? "is there" : "does not exist")}. Lines of it:");
        foreach (var setting in Setting.All)
        {
            host.Output.WriteLine($"  {setting.Example}");
        }

        text.Line($"Of the environment: {string.Join(", ", Setting.All.Select(s => s.Variable))}. It goes before the file, and an option "
            + "or a study file before both.");
        return ExitStatus.Done;
    }
}
