using System.CommandLine;
using System.CommandLine.Help;
using System.Globalization;
using System.Text;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Cli.Options;
using ChargeAudit.Cli.Output;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Documents.Commands;

/// <summary>A command's page, from its own tree of arguments and options.</summary>
public static class CommandPage
{
    internal const string Origin = "This page is made from the program: `dotnet run --project tests/ChargeAudit.Documents`.\n";

    internal const string Caution = $"{Cautions.Line} {CautionText.Elsewhere}";

    /// <summary>Its Markdown.</summary>
    /// <param name="command">The command.</param>
    public static string Of(Command command)
    {
        var options = command.Options.Where(o => !o.Hidden && o is not HelpOption).OrderByDescending(o => o.Required).ToList();
        var text = new StringBuilder("# chargeaudit ").Append(command.Name).Append("\n\n").Append(command.Description)
            .Append("\n\n```text\n").Append(Usage(command, options)).Append("\n```\n\n").Append(Caution).Append('\n');
        if (command.Arguments.Count > 0)
        {
            text.Append("\n## Arguments\n\n| argument | how many | meaning |\n|---|---|---|\n");
            foreach (var argument in command.Arguments)
            {
                text.Append("| `").Append(argument.Name).Append("` | ").Append(HowMany(argument.Arity)).Append(" | ")
                    .Append(Cell(argument.Description)).Append(" |\n");
            }
        }

        text.Append("\n## Options\n\n| option | value | meaning |\n|---|---|---|\n");
        foreach (var option in options)
        {
            text.Append("| `").Append(option.Name).Append("` | ").Append(Value(option)).Append(" | ").Append(Cell(option.Description))
                .Append(Remark(option)).Append(" |\n");
        }

        text.Append("\n## Exit status\n\n| status | meaning |\n|---|---|\n");
        foreach (var (status, meaning) in ExitStatuses.Of(command.Name))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {status} | {meaning} |\n");
        }

        text.Append("\n## Examples\n\n```sh\n").AppendJoin('\n', CommandExamples.Of(command)).Append("\n```\n\n");
        return text.Append("All commands: [docs/commands](README.md). ").Append(Origin).ToString();
    }

    /// <summary>Text that stays inside a cell of a table.</summary>
    /// <param name="text">The text.</param>
    internal static string Cell(string? text) => (text ?? "").ReplaceLineEndings(" ").Replace("|", "\\|", StringComparison.Ordinal);

    private static string Usage(Command command, List<Option> options)
    {
        var parts = new List<string> { "chargeaudit", command.Name };
        parts.AddRange(command.Arguments.Select(a => (a.Arity.MinimumNumberOfValues, a.Arity.MaximumNumberOfValues) switch
        {
            (0, 1) => $"[{a.Name}]",
            (0, _) => $"[{a.Name} ...]",
            (_, 1) => a.Name,
            _ => $"{a.Name} ...",
        }));
        parts.AddRange(options.Where(o => o.Required).Select(o => $"{o.Name} {o.HelpName}"));
        return string.Join(' ', parts) + " [options]";
    }

    private static string HowMany(ArgumentArity arity) => (arity.MinimumNumberOfValues, arity.MaximumNumberOfValues) switch
    {
        (0, 1) => "one or none",
        (0, _) => "any number",
        (1, 1) => "one",
        _ => "one or more",
    };

    private static string Value(Option option) => option.ValueType == typeof(bool)
        ? "–"
        : $"`{(option.HelpName ?? "VALUE").Replace("|", "` or `", StringComparison.Ordinal)}`"
            + $"{(option.AllowMultipleArgumentsPerToken ? ", one or more" : "")}";

    // A default that the description already names is not given twice.
    private static string Remark(Option option) => option.Required ? " (required)"
        : option is { HasDefaultValue: true } && option.ValueType == typeof(string)
            && option.GetDefaultValue() is string { Length: > 0 } value
            && option.Description?.Contains("(default", StringComparison.Ordinal) != true ? $" (default `{value}`)" : "";
}
