using System.Text;

namespace ChargeAudit.Cli.Shells;

/// <summary>Completion for bash: a function for <c>complete -F</c>; what it leaves open, such as names of files, is the shell's.</summary>
internal static class BashCompletion
{
    public static string Of(IReadOnlyList<OfferedCommand> commands)
    {
        var script = new StringBuilder("# bash completion for chargeaudit\n")
            .Append("_chargeaudit() {\n    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command= words= i\n")
            .Append("    COMPREPLY=()\n    for ((i = 1; i < COMP_CWORD; i++)); do\n        case ${COMP_WORDS[i]} in\n            ")
            .AppendJoin('|', commands.Select(c => c.Name)).Append(") command=${COMP_WORDS[i]}; break ;;\n        esac\n    done\n")
            .Append("    case $command in\n        '') words='").AppendJoin(' ', commands.Select(c => c.Name))
            .Append(" --help --version' ;;\n");
        foreach (var command in commands)
        {
            script.Append("        ").Append(command.Name).Append(")\n            case $before in\n");
            foreach (var option in command.Options.Where(o => o.Words.Count > 0))
            {
                script.Append("                ").Append(option.Name).Append(") COMPREPLY=($(compgen -W '").AppendJoin(' ', option.Words)
                    .Append("' -- \"$word\")); return ;;\n");
            }

            string[] open = [.. command.Options.Where(o => o.Value is not null && o.Words.Count == 0).Select(o => o.Name)];
            if (open.Length > 0)
            {
                script.Append("                ").AppendJoin('|', open).Append(") return ;;\n");
            }

            script.Append("            esac\n            words='")
                .AppendJoin(' ', command.Words.Concat(command.Options.Select(o => o.Name))).Append("'\n");
            if (command.Words.Count == 0)
            {
                script.Append("            [[ $word == -* ]] || return\n");
            }

            script.Append("            ;;\n");
        }

        return script.Append("    esac\n    COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n}\n")
            .Append("complete -o default -F _chargeaudit chargeaudit\n").ToString();
    }
}
