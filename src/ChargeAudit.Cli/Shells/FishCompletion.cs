using System.Text;

namespace ChargeAudit.Cli.Shells;

/// <summary>Completion for fish: one <c>complete</c> for each command and option.</summary>
internal static class FishCompletion
{
    public static string Of(IReadOnlyList<OfferedCommand> commands)
    {
        var script = new StringBuilder("# fish completion for chargeaudit\n")
            .Append("complete -c chargeaudit -n __fish_use_subcommand -f -l help -d 'show the commands'\n")
            .Append("complete -c chargeaudit -n __fish_use_subcommand -f -l version -d 'show the version'\n");
        foreach (var command in commands)
        {
            script.Append("complete -c chargeaudit -n __fish_use_subcommand -f -a ").Append(command.Name).Append(" -d ")
                .Append(Quoted(command.Description)).Append('\n');
        }

        foreach (var command in commands)
        {
            string within = $"complete -c chargeaudit -n '__fish_seen_subcommand_from {command.Name}'";
            if (command.Words.Count > 0)
            {
                script.Append(within).Append(" -f -a ").Append(Quoted(string.Join(' ', command.Words))).Append('\n');
            }

            foreach (var option in command.Options)
            {
                script.Append(within).Append(" -l ").Append(option.Name.TrimStart('-'));
                script.Append(option switch
                {
                    { Value: null } => "",
                    { Words.Count: > 0 } => $" -x -a {Quoted(string.Join(' ', option.Words))}",
                    _ => " -r -F",
                });
                script.Append(" -d ").Append(Quoted(option.Description)).Append('\n');
            }
        }

        return script.ToString();
    }

    private static string Quoted(string text) =>
        $"'{text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("'", "\\'", StringComparison.Ordinal)}'";
}
