using System.Text;

namespace ChargeAudit.Cli.Shells;

/// <summary>Completion for PowerShell, by a native argument completer; where it offers nothing, the shell completes names of files.
/// </summary>
internal static class PowerShellCompletion
{
    public static string Of(IReadOnlyList<OfferedCommand> commands)
    {
        var script = new StringBuilder("# PowerShell completion for chargeaudit\n")
            .Append("Register-ArgumentCompleter -Native -CommandName chargeaudit -ScriptBlock {\n")
            .Append("    param($wordToComplete, $commandAst, $cursorPosition)\n    $commands = [ordered]@{\n");
        foreach (var command in commands)
        {
            script.Append("        ").Append(Quoted(command.Name)).Append(" = ").Append(Quoted(command.Description)).Append('\n');
        }

        script.Append("    }\n    $options = @{\n");
        foreach (var command in commands)
        {
            script.Append("        ").Append(Quoted(command.Name)).Append(" = [ordered]@{\n");
            foreach (var option in command.Options)
            {
                script.Append("            ").Append(Quoted(option.Name)).Append(" = ").Append(Quoted(option.Description)).Append('\n');
            }

            script.Append("        }\n");
        }

        script.Append("    }\n    $values = @{\n");
        foreach (var command in commands)
        {
            if (command.Words.Count > 0)
            {
                Values(script, command.Name, command.Words);
            }

            foreach (var option in command.Options.Where(o => o.Value is not null))
            {
                Values(script, $"{command.Name} {option.Name}", option.Words);
            }
        }

        return script.Append("""
                }
                $words = @($commandAst.CommandElements | Where-Object { $_.Extent.EndOffset -lt $cursorPosition } |
                    ForEach-Object { $_.Extent.Text })
                $command = $words | Select-Object -Skip 1 | Where-Object { $commands.Contains($_) } | Select-Object -First 1
                if (-not $command) { $offered = $commands }
                elseif ($values.ContainsKey("$command $($words[-1])")) {
                    $offered = [ordered]@{}
                    $values["$command $($words[-1])"] | ForEach-Object { $offered[$_] = $_ }
                }
                elseif ($wordToComplete -like '-*') { $offered = $options[$command] }
                else {
                    $offered = [ordered]@{}
                    $values[$command] | Where-Object { $_ } | ForEach-Object { $offered[$_] = $_ }
                }
                foreach ($word in $offered.Keys) {
                    if ($word -like "$wordToComplete*") {
                        [System.Management.Automation.CompletionResult]::new($word, $word, 'ParameterValue', $offered[$word])
                    }
                }
            }

            """).ToString();
    }

    private static void Values(StringBuilder script, string key, IReadOnlyList<string> words) =>
        script.Append("        ").Append(Quoted(key)).Append(" = @(").AppendJoin(", ", words.Select(Quoted)).Append(")\n");

    private static string Quoted(string text) => $"'{text.Replace("'", "''", StringComparison.Ordinal)}'";
}
