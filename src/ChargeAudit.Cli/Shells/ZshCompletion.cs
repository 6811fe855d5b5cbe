using System.Text;

namespace ChargeAudit.Cli.Shells;

/// <summary>Completion for zsh, by its own <c>_arguments</c>. As a file named <c>_chargeaudit</c> among <c>fpath</c> it is loaded when it
/// is needed; it may also be sourced.</summary>
internal static class ZshCompletion
{
    public static string Of(IReadOnlyList<OfferedCommand> commands)
    {
        var script = new StringBuilder("#compdef chargeaudit\n\n_chargeaudit() {\n    local context state state_descr line\n")
            .Append("    typeset -A opt_args\n    local -a commands\n    commands=(\n");
        foreach (var command in commands)
        {
            script.Append("        ").Append(Quoted($"{command.Name}:{command.Description}")).Append('\n');
        }

        script.Append("    )\n    _arguments -C '--help[show the commands]' '--version[show the version]' '1: :->command' '*:: :->rest'\n")
            .Append("    case $state in\n        command) _describe command commands ;;\n        rest)\n            case $line[1] in\n");
        foreach (var command in commands)
        {
            script.Append("                ").Append(command.Name).Append(")\n                    _arguments -s");
            foreach (var option in command.Options)
            {
                string value = option.Value is null ? "" : $":{Plain(option.Value)}:{Taken(option.Words)}";
                script.Append(" \\\n                        ").Append(Quoted($"*{option.Name}[{Plain(option.Description)}]{value}"));
            }

            if (command.Argument is { } argument)
            {
                script.Append(" \\\n                        ").Append(Quoted($"*:{Plain(argument)}:{Taken(command.Words)}"));
            }

            script.Append("\n                    ;;\n");
        }

        return script.Append("            esac\n            ;;\n    esac\n}\n\n")
            .Append("if [ \"$funcstack[1]\" = _chargeaudit ]; then\n    _chargeaudit \"$@\"\nelse\n")
            .Append("    compdef _chargeaudit chargeaudit\nfi\n")
            .ToString();
    }

    private static string Taken(IReadOnlyList<string> words) => words.Count > 0 ? $"({string.Join(' ', words)})" : "_files";

    // Colons and brackets separate the parts of what _arguments is given.
    private static string Plain(string text) => text.Replace("[", "\\[", StringComparison.Ordinal)
        .Replace("]", "\\]", StringComparison.Ordinal).Replace(":", "\\:", StringComparison.Ordinal);

    private static string Quoted(string text) => $"'{text.Replace("'", "'\\''", StringComparison.Ordinal)}'";
}
